#pragma once
#include <optional>
#include <vector>

namespace tarry
{
/// Trend of lag over time: two recorders whose clocks differ.
struct Drift
{
    double ppm = 0.0;   ///< parts per million, positive = the room falls further behind
    double ppmSd = 0.0; ///< its standard deviation
};

/// times, lags: s, of the hits that agree. None where they are too few (6) or too close together (10 s).
[[nodiscard]] std::optional<Drift> drift(const std::vector<double>& times, const std::vector<double>& lags);

/// s by which the lag changes over `seconds`, where that matters: more than 0.5 ms (what a lag is held to) and more
/// than three standard deviations from none. None else.
[[nodiscard]] std::optional<double> driftThatMatters(const Drift& drift, double seconds);
} // namespace tarry
