#pragma once
#include "Core/Capture/Hit.h"

#include <vector>

namespace tarry
{
/// A hit at the rate it is analysed at: 44.1 or 48 kHz and their like. Faster recordings are filtered and thinned by a
/// whole factor, spot and room alike, so that the lag stays; what lies above 20 kHz tells nothing about it.
struct AnalysisWindow
{
    explicit AnalysisWindow(const Hit& hit);

    std::vector<std::vector<double>> spot, room; ///< channel by channel, all of the same length
    double rate;                                 ///< Hz
    int onset;                                   ///< index of the spot's attack

    [[nodiscard]] int size() const { return static_cast<int>(spot.front().size()); }
};

/// By how many a recording at this rate is thinned: 1 up to 64 kHz, 2 up to 128 kHz, 4 above.
[[nodiscard]] int thinningFor(double sampleRate);
} // namespace tarry
