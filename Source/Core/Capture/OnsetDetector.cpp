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
constexpr int longHops = 40;              // more than two periods of 50 Hz hum
constexpr double halfLife = 10.0;         // s in which the memory of the loudest fades by half (3 dB)
} // namespace

void OnsetDetector::prepare(double sampleRate, int channelCount)
{
    channels = channelCount;
    hop = static_cast<int>(std::lround(sampleRate / 1000.0));
    forget = std::pow(0.5, 0.001 / halfLife);
    for (std::size_t b = 0; b < bandCount; ++b)
    {
        watched[b].afterHops = std::max(1, static_cast<int>(bands[b].after() * 1000.0));
        watched[b].beforeHops = static_cast<int>(bands[b].before() * 1000.0);
    }
    bank.prepare(sampleRate, channels);
    reset();
}

void OnsetDetector::reset() noexcept
{
    for (Watched& w : watched)
    {
        w.energy.fill(0.0);
        w.loudest = 0.0;
    }
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

double OnsetDetector::step(const Watched& band, std::int64_t at) noexcept
{
    const auto mean = [&band](std::int64_t from, int count)
    {
        double sum = 0.0;
        for (int i = 0; i < count; ++i) sum += band.energy[static_cast<std::size_t>((from + i) & (history - 1))];
        return sum / count;
    };
    const double floor = std::max(absoluteFloor, relativeFloor * band.loudest);
    const double after = mean(at, band.afterHops) + floor;
    // Against the last 40 ms too, where those were louder: within a period of hum the energy steps up every time.
    const double before = std::max(mean(at - band.beforeHops, band.beforeHops), mean(at - longHops, longHops)) + floor;
    return std::log(after / before);
}

bool OnsetDetector::endHop() noexcept
{
    const auto slot = static_cast<std::size_t>(hops & (history - 1));
    const auto sums = bank.takeSums();
    for (std::size_t b = 0; b < bandCount; ++b)
    {
        Watched& w = watched[b];
        w.energy[slot] = sums[b] / hop;
        w.loudest = std::max(w.loudest * forget, w.energy[slot]);
    }
    inHop = 0;

    const std::int64_t at = hops - settleHops + 1;
    double sum = 0.0;
    for (const Watched& w : watched) sum += std::clamp(step(w, at), 0.0, 6.0);
    steps[static_cast<std::size_t>(at & (history - 1))] = at >= 0 ? sum : 0.0;
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
