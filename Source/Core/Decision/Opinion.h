#pragma once
#include "Core/Evidence/Evidence.h"
#include "Core/Ground/Types.h"

#include <array>
#include <optional>

namespace tarry
{
/// What one hit says on its own, given what all say together.
struct HitOpinion
{
    double weight = 0.0;       ///< 0 to 1
    std::optional<double> lag; ///< s; the agreed lag, as this hit shows it, or where it shows none there, its own
    double trendLag = 0.0;     ///< s, where its step is largest, however far that is from the agreed lag: for a trend
    double clearDb = 0.0;      ///< its response at the agreed lag over what comes before any arrival
    Polarity polarity = Polarity::normal;
};

/// What all hits together have settled on.
struct Settled
{
    double stepLag = 0.0; ///< s, where their energy steps have the mode
    double lag = 0.0;     ///< s, the same arrival as it was timed in the end
    bool refined = false; ///< timed by the response
};

/// weights: how much each band of the hit counts, 0 to 1. Pure.
[[nodiscard]] HitOpinion opinionOf(const PairEvidence& hit, const std::array<double, bandCount>& weights,
                                   const LagGrid& grid, const Settled& settled);
} // namespace tarry
