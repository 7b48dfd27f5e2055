#include "Core/Evidence/Evidence.h"

#include <algorithm>
#include <cmath>

namespace tarry
{
namespace
{
constexpr double spotFloor = 1e-5, roomFloor = 1e-4; // shares of the loud stretches: -50 and -40 dB
constexpr double leastStep = 1.0;                    // natural log; a smaller one in the spot is no attack
constexpr double silence = 1e-16;

double decibels(double power)
{
    return 10.0 * std::log10(power + 1e-20);
}

constexpr double sharpFrom = 1000.0;    // Hz: in bands from here up the attack's edge is timed
constexpr float digitalSilence = 1e-9F; // of the attack's energy, -90 dB: no microphone is so quiet
constexpr double kept = 0.005;          // s after the spot's attack that its moments are kept to

void keepMoments(BandEvidence& e, const BandEnergy& spot, const BandEnergy& room, const LagGrid& grid, int attack)
{
    const int origin = grid.noise + grid.back;
    const auto samples = [&](double seconds) { return static_cast<int>(std::lround(seconds * grid.rate)); };
    const int moment = samples(BandEvidence::moment);
    for (int i = -samples(BandEvidence::ahead); i < samples(kept); ++i)
        e.spotMoments.push_back(static_cast<float>(spot.moment(attack + i, moment)));
    const auto quiet = e.spotMoments.begin() + samples(0.002), sound = e.spotMoments.begin() + samples(0.010);
    e.fromSilence = *std::max_element(quiet, sound) < digitalSilence * *std::max_element(sound, e.spotMoments.end());
    e.roomMoments.reserve(static_cast<std::size_t>(grid.count));
    for (int i = 0; i < grid.count; ++i)
        e.roomMoments.push_back(static_cast<float>(room.moment(attack - origin + i, moment)));
}

BandEvidence measureBand(const BandEnergy& spot, const BandEnergy& room, const LagGrid& grid, const Band& band,
                         int onset)
{
    BandEvidence e;
    const int origin = grid.noise + grid.back;
    const double floor = spot.loud() * spotFloor + silence;
    int k = onset;
    e.size = -1e9;
    const int last = onset + static_cast<int>(0.020 * grid.rate);
    for (int i = onset - static_cast<int>(0.004 * grid.rate); i < last; ++i)
        if (const double step = spot.step(i, floor); step > e.size)
        {
            e.size = step;
            k = i;
        }
    e.heard = e.size >= leastStep;
    if (!e.heard) return e;

    const int longer = spot.longStretch();
    double loudest = 0.0, before = 0.0;
    for (int i = k - grid.back; i < k - origin + grid.count; ++i)
    {
        loudest = std::max(loudest, room.level(i));
        e.roomRise = std::max(e.roomRise, room.level(i) - room.level(i - longer));
    }
    for (int i = k - grid.noise; i < k; ++i) before += room.level(i);
    double loudestSpot = 0.0; // a soft mallet takes a few periods to its loudest
    for (int i = k; i < k + static_cast<int>(0.030 * grid.rate); ++i)
        loudestSpot = std::max(loudestSpot, spot.level(i));
    e.spotRise = std::max(0.0, loudestSpot - spot.level(k - longer));
    e.riseDb = decibels(loudest) - decibels(before / grid.noise);

    const double roomLeast = room.loud() * roomFloor + silence;
    e.steps.reserve(static_cast<std::size_t>(grid.count / PairEvidence::stride + 1));
    for (int i = 0; i < grid.count; i += PairEvidence::stride)
        e.steps.push_back(std::max(0.0F, static_cast<float>(room.step(k - origin + i, roomLeast))));

    // An attack in noise seems to begin later than the same attack in silence. So that both are timed alike, the spot
    // is timed with as much noise, against its loudest, as the room has.
    const double alike = spot.justAfter(k) * std::pow(10.0, -std::clamp(e.riseDb, 3.0, 60.0) / 10.0) + silence;
    const int half = attackHalf(grid);
    for (int i = -half; i <= half; i += PairEvidence::stride)
        e.attack.push_back(std::max(0.0F, static_cast<float>(spot.step(k + i, alike))));
    if (band.low >= sharpFrom) keepMoments(e, spot, room, grid, k);
    return e;
}

void addWeighted(std::vector<double>& sum, const std::vector<float>& values, double weight)
{
    sum.resize(values.size(), 0.0);
    for (std::size_t i = 0; i < sum.size(); ++i) sum[i] += weight * static_cast<double>(values[i]);
}
} // namespace

double PairEvidence::spotRise() const
{
    double sum = 0.0;
    for (const BandEvidence& e : band) sum += e.spotRise;
    return sum;
}

std::vector<double> PairEvidence::weightedSteps(const std::array<double, bandCount>& weights) const
{
    std::vector<double> sum;
    for (std::size_t b = 0; b < bandCount; ++b)
        if (band[b].heard && weights[b] > 0.0) addWeighted(sum, band[b].steps, weights[b]);
    return sum;
}

std::vector<double> PairEvidence::weightedResponse(const std::array<double, bandCount>& weights) const
{
    std::vector<double> sum(response.front().size(), 0.0);
    for (std::size_t b = 0; b < bandCount; ++b)
        if (weights[b] > 0.0) addWeighted(sum, response[b], weights[b]);
    return sum;
}

PairEvidence EvidenceMeter::measure(std::span<const double> spot, std::span<const double> room, int onset)
{
    PairEvidence evidence;
    for (std::size_t b = 0; b < bandCount; ++b)
        evidence.band[b] = measureBand(BandEnergy(spot, grid.rate, bands[b]), BandEnergy(room, grid.rate, bands[b]),
                                       grid, bands[b], onset);
    evidence.response = response.measure(spot, room, onset);
    return evidence;
}
} // namespace tarry
