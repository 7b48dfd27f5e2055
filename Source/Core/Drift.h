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

/// times, lags: s, of the hits that count, in any order. Starts from those that agree, within `falls` (s) of the agreed
/// lag, and takes in those that fall so close to their trend: hits at both ends of a long take have drifted out of the
/// agreement, and leaving them out would flatten the trend. None where they are too few (6) or too close together
/// (10 s).
[[nodiscard]] std::optional<Drift> drift(const std::vector<double>& times, const std::vector<double>& lags,
                                         double agreedLag, double falls);

/// s by which the lag changes over `seconds`, where that matters: more than 0.5 ms (what a lag is held to) and more
/// than three standard deviations from none. None else.
[[nodiscard]] std::optional<double> driftThatMatters(const Drift& drift, double seconds);
} // namespace tarry
