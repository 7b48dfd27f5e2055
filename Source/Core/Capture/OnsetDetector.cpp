#include "Core/Capture/OnsetDetector.h"

#include <algorithm>
#include <cmath>

namespace tarry
{
namespace
{
constexpr double relativeFloor = 1e-5;    // -50 dB below the loudest of late: softer steps are not played
constexpr double absoluteFloor = 1e-10;   // -100 dBFS: nothing is played below a converter's noise
constexpr std::int64_t measuresFrom = 34; // hops: the longest `before` has to be full, or the stream's start is a step
constexpr double halfLife = 10.0;         // s in which the memory of the loudest fades by half (3 dB)
} // namespace

void OnsetDetector::prepare(double sampleRate, int channelCount)
{
    channels = channelCount;
    hop = static_cast<int>(std::lround(sampleRate / 1000.0));
    forget = std::pow(0.5, 0.001 / halfLife);
    for (std::size_t b = 0; b < bandCount; ++b)
    {
        afterHops[b] = std::max(1, static_cast<int>(bands[b].after() * 1000.0));
        beforeHops[b] = static_cast<int>(bands[b].before() * 1000.0);
        for (int i = 0; i < settleHops; ++i) isAfter[static_cast<std::size_t>(i)][b] = i < afterHops[b] ? 1.0 : 0.0;
        for (int i = 0; i < longHops; ++i)
            isBefore[static_cast<std::size_t>(i)][b] = i >= longHops - beforeHops[b] ? 1.0 : 0.0;
    }
    bank.prepare(sampleRate, channels);
    reset();
}

void OnsetDetector::reset() noexcept
{
    energy.fill(Lanes{});
    loudest.fill(0.0);
    bank.reset();
    steps.fill(0.0);
    inHop = 0;
    hops = found = 0;
    lastHop = -apartHops;
}

bool OnsetDetector::push(const float* const* spot, int frames) noexcept
{
    bank.push(spot, frames);
    inHop += frames;
    return inHop == hop && endHop();
}

/// Sums `count` hops from `first` on, and of those the ones that count in each band. The bands side by side: each sum
/// waits on itself.
TARRY_ALSO_FOR_AVX
void OnsetDetector::sumHops(const Lanes* energy, std::int64_t first, const Lanes* counts, int count, Lanes& counted,
                            Lanes& all) noexcept
{
    Lanes some{}, every{};
    for (int i = 0; i < count; ++i)
    {
        const Lanes here = energy[(first + i) & (history - 1)];
        every += here;
        some += counts[i] * here;
    }
    counted = some;
    all = every;
}

/// The bands' steps at a hop, summed.
double OnsetDetector::stepsAt(std::int64_t at) const noexcept
{
    Lanes after{}, before{}, longer{}, unused{};
    sumHops(energy.data(), at, isAfter.data(), settleHops, after, unused);
    sumHops(energy.data(), at - longHops, isBefore.data(), longHops, before, longer);
    double sum = 0.0;
    for (std::size_t b = 0; b < bandCount; ++b)
    {
        const double floor = std::max(absoluteFloor, relativeFloor * loudest[b]);
        // Against the last 40 ms too, where those were louder: within a period of hum the energy steps up every time.
        const double was = std::max(before[b] / beforeHops[b], longer[b] / longHops) + floor;
        sum += std::clamp(std::log((after[b] / afterHops[b] + floor) / was), 0.0, 6.0);
    }
    return sum;
}

bool OnsetDetector::endHop() noexcept
{
    const auto slot = static_cast<std::size_t>(hops & (history - 1));
    const auto sums = bank.takeSums();
    for (std::size_t b = 0; b < bandCount; ++b)
    {
        energy[slot][b] = sums[b] / hop;
        loudest[b] = std::max(loudest[b] * forget, sums[b] / hop);
    }
    inHop = 0;

    const std::int64_t at = hops - settleHops + 1;
    steps[static_cast<std::size_t>(at & (history - 1))] = at >= 0 ? stepsAt(at) : 0.0;
    ++hops;

    // Is the step `peakHops` back the largest on both sides?
    const std::int64_t candidate = at - peakHops;
    if (candidate < measuresFrom || candidate - lastHop < apartHops) return false;
    const double height = steps[static_cast<std::size_t>(candidate & (history - 1))];
    if (height < threshold) return false;
    for (std::int64_t i = std::max<std::int64_t>(0, candidate - peakHops); i <= at; ++i)
    {
        const double other = steps[static_cast<std::size_t>(i & (history - 1))];
        if (other > height || (other == height && i < candidate)) return false;
    }
    lastHop = candidate;
    found = candidate * hop;
    return true;
}
} // namespace tarry
