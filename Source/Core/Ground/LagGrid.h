#pragma once
#include <algorithm>
#include <cmath>

namespace tarry
{
/// The lags at which evidence is kept: from `noise` before the earliest possible arrival (a stretch that holds no
/// arrival, the yardstick) through the look-back to the reach. Index 0 is the earliest.
struct LagGrid
{
    LagGrid(double sampleRate, double lookAhead, double reach)
        : rate(sampleRate), noise(static_cast<int>(std::lround(noiseSeconds * sampleRate))),
          back(static_cast<int>(std::lround((std::max(lookAhead, leftSeconds) + slackSeconds) * sampleRate))),
          count(noise + back + static_cast<int>(std::lround(reach * sampleRate)))
    {
    }
    [[nodiscard]] double lag(double index) const { return (index - noise - back) / rate; }
    [[nodiscard]] double index(double lag) const { return lag * rate + noise + back; }

    double rate; ///< grid points a second
    int noise;   ///< points of the yardstick
    int back;    ///< points between the yardstick and lag zero
    int count;   ///< points in all

    static constexpr double noiseSeconds = 0.060;
    static constexpr double leftSeconds = 0.020;  // a late spot is looked for with and without look-ahead: 7 m
    static constexpr double slackSeconds = 0.003; // beyond either, or a mode at the very end would be no peak
};
} // namespace tarry
