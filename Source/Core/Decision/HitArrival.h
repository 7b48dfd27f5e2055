#pragma once
#include "Core/Evidence/Evidence.h"
#include "Core/Ground/Types.h"

#include <array>
#include <optional>

namespace tarry
{
/// The arrival as one hit shows it, given the one that all show together.
struct HitArrival
{
    double weight = 0.0;       ///< 0 to 1: how much the hit counts
    std::optional<double> lag; ///< s; the found lag, as this hit shows it, or where it shows none there, its own
    double trendLag = 0.0;     ///< s, where its step is largest, however far that is from the found lag: for a trend
    double clearDb = 0.0;      ///< its response at the found lag over what comes before any arrival
    Polarity polarity = Polarity::normal;
    /// How well the found arrival explains the hit, 0 to 1: its evidence there against its largest anywhere, steps or
    /// response, whichever says more.
    double explained = 0.0;
};

/// The arrival of all hits together.
struct Timed
{
    double stepLag = 0.0; ///< s, where their energy steps have the mode
    double lag = 0.0;     ///< s, the same arrival as it was timed in the end
    bool refined = false; ///< timed by the response
};

/// weights: how much each band of the hit counts, 0 to 1. Pure.
[[nodiscard]] HitArrival arrivalOf(const PairEvidence& hit, const std::array<double, bandCount>& weights,
                                   const LagGrid& grid, const Timed& found);
} // namespace tarry
