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

/// times, lags: s, of the hits that agree, in any order. None where they are too few (6) or too close together (10 s).
[[nodiscard]] std::optional<Drift> drift(const std::vector<double>& times, const std::vector<double>& lags);

/// The same from all hits that count, agreeing or not. Starts from those that agree, within `falls` (s) of the agreed
/// lag, and takes in those that fall so close to their trend: hits at both ends of a long take have drifted out of the
/// agreement, and leaving them out would flatten the trend.
[[nodiscard]] std::optional<Drift> drift(const std::vector<double>& times, const std::vector<double>& lags,
                                         double agreedLag, double falls);

/// s by which the lag changes over `seconds`, where that matters: more than 0.5 ms (what a lag is held to) and more
/// than three standard deviations from none, or where it rests on a few hits on as many more as make it equally
/// unlikely (`hits`; 1000 where nobody knows). None else.
[[nodiscard]] std::optional<double> driftThatMatters(const Drift& drift, double seconds, int hits = 1000);
} // namespace tarry
