#include "Core/Evidence.h"

#include <algorithm>
#include <cmath>

namespace tarry
{
namespace
{
constexpr double spotFloor = 1e-5, roomFloor = 1e-4; // shares of the loud stretches: -50 and -40 dB
constexpr float leastStep = 1.0F;                    // natural log; a smaller one in the spot is no attack

float decibels(float power)
{
    return 10.0F * std::log10(power + 1e-20F);
}
} // namespace

PairEvidence EvidenceMeter::measure(std::span<const double> spot, std::span<const double> room, int onset)
{
    PairEvidence evidence;
    const int size = static_cast<int>(spot.size());
    const int origin = grid.noise + grid.back;
    for (std::size_t b = 0; b < bandCount; ++b)
    {
        BandEvidence& e = evidence.band[b];
        const StepCurve s = energySteps(spot, grid.rate, bands[b], spotFloor);
        const StepCurve r = energySteps(room, grid.rate, bands[b], roomFloor);
        const auto from = s.step.begin() + std::max(0, onset - static_cast<int>(0.004 * grid.rate));
        const auto to = s.step.begin() + std::min(size, onset + static_cast<int>(0.020 * grid.rate));
        const auto attack = std::max_element(from, to);
        const int k = static_cast<int>(attack - s.step.begin());
        e.size = *attack;
        e.heard = e.size >= leastStep;
        if (!e.heard) continue;

        const auto at = [&](int i) { return static_cast<std::size_t>(std::clamp(i, 0, size - 1)); };
        float loudest = 0.0F;
        double before = 0.0;
        for (int i = k - grid.back; i < k - origin + grid.count; ++i) loudest = std::max(loudest, r.level[at(i)]);
        for (int i = k - grid.noise; i < k; ++i) before += static_cast<double>(r.level[at(i)]);
        e.ownDb = decibels(s.level[at(k)]) - decibels(loudest);
        e.riseDb = decibels(loudest) - decibels(static_cast<float>(before / grid.noise));
        e.steps.reserve(static_cast<std::size_t>(grid.count / PairEvidence::stride + 1));
        for (int i = 0; i < grid.count; i += PairEvidence::stride)
            e.steps.push_back(std::max(0.0F, r.step[at(k - origin + i)]));
    }
    evidence.response = response.measure(spot, room, onset);
    return evidence;
}
} // namespace tarry
