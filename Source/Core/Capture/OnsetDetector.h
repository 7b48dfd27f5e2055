#pragma once
#include "Core/Capture/FilterBank.h"
#include "Core/Ground/Bands.h"
#include "Core/Ground/Lanes.h"
#include "Core/Ground/Types.h"

#include <array>
#include <cstdint>

namespace tarry
{
/// Finds attacks in a stream: the log step in energy in each band, summed, has a peak above a threshold. Works in hops
/// of one millisecond counted from the stream's start, so the answer does not depend on block sizes. [audio]
class OnsetDetector
{
public:
    static constexpr double threshold = 6.0; // summed log step: a factor 20 in two bands, say
    static constexpr int apartHops = 40;     // ms: two attacks closer than this are one
    static constexpr int peakHops = 20;      // ms on both sides in which an attack has to be the largest step
    static constexpr int settleHops = 9;     // ms after an instant that its longest `after` window needs

    void prepare(double sampleRate, int channels); // [setup]
    void reset() noexcept;

    /// Takes `frames` of every channel, at most framesToDecision(); true when an attack has just been decided on: see
    /// onset().
    bool push(const float* const* spot, int frames) noexcept;

    /// An attack can be decided on after so many frames more, 1 or more: the end of a hop.
    [[nodiscard]] int framesToDecision() const noexcept { return hop - inHop; }

    /// Samples since the stream began.
    [[nodiscard]] std::int64_t onset() const noexcept { return found; }

    /// Longest time from an attack to the decision on it, samples.
    [[nodiscard]] int delay() const noexcept { return (settleHops + peakHops + 1) * hop; }

private:
    bool endHop() noexcept;

    static constexpr int history = 64;  // hops; a power of two that holds the longest `before` and `after`
    static constexpr int longHops = 40; // more than two periods of 50 Hz hum
    static void sumHops(const Lanes* energy, std::int64_t first, const Lanes* counts, int count, Lanes& counted,
                        Lanes& all) noexcept;
    [[nodiscard]] double stepsAt(std::int64_t at) const noexcept;

    // Band by band, a lane a band.
    std::array<Lanes, history> energy{};
    std::array<double, bandCount> loudest{};
    std::array<int, bandCount> afterHops{}, beforeHops{};
    // 1 where a hop from the instant on, or of the longHops before it, is of the band's `after` or `before`; else 0.
    std::array<Lanes, settleHops> isAfter{};
    std::array<Lanes, longHops> isBefore{};

    FilterBank bank;
    std::array<double, history> steps{};
    int channels = 1, hop = 48, inHop = 0;
    double forget = 1.0;
    std::int64_t hops = 0, lastHop = -apartHops, found = 0;
};
} // namespace tarry
