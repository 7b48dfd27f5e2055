#pragma once
#include <cstddef>
#include <optional>
#include <vector>

namespace tarry
{
/// A lag that departs by more than this is another place of the stand: what a lag is held to. s
inline constexpr double samePlace = 0.5e-3;

/// Where the stand stood in each take: 0 for the first place, then 1, ... in order of appearance; a take that returns
/// gets the old number. lags: s, take after take; none where a take has no sure lag of its own: it is taken to stand
/// where the one before it stood.
[[nodiscard]] std::vector<std::size_t> placesOf(const std::vector<std::optional<double>>& lags);

/// One hit of a take.
struct TimedLag
{
    double time = 0.0, lag = 0.0; ///< s
};

/// When the stand was moved within a take, and from where to where.
struct StepWithin
{
    double time = 0.0;                ///< s: the first hit at the new place
    double before = 0.0, after = 0.0; ///< s, lags
};

/// The one instant that parts the hits (in order of time) into two lags. None where they stay together, mix, or
/// gradually drift.
[[nodiscard]] std::optional<StepWithin> stepWithin(const std::vector<TimedLag>& hits);
} // namespace tarry
