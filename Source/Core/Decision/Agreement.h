#pragma once
#include "Core/Decision/Arrival.h"

#include <cmath>
#include <vector>

namespace tarry
{
inline constexpr double usedFrom = 0.1;        ///< weight from which a hit is used
inline constexpr double agreesWithin = 0.0005; ///< s from the found lag within which a hit agrees

/// How far the hits fall together.
struct Agreement
{
    int used = 0, agreeing = 0; ///< hits
    double byWeight = 0.0;      ///< 0 to 1: share of the used hits' weight that agrees
    double byLoudness = 0.0;    ///< 0 to 1: share of what the spot hears of all hits, used or not, that agrees
    double explained = 0.0;     ///< 0 to 1: share of what the spot hears that the arrival explains: see HitArrival
    double spread = 0.0;        ///< s, robust standard deviation of the agreeing hits' own lags
    double jitter = 0.0;        ///< s, the same from one hit to the next: two clocks that drift do not add to it
};

[[nodiscard]] inline bool isUsed(const HitArrival& hit)
{
    return hit.weight >= usedFrom;
}
[[nodiscard]] inline bool agrees(const HitArrival& hit, double lag)
{
    return isUsed(hit) && hit.lag && std::abs(*hit.lag - lag) <= agreesWithin;
}

/// hits: those that the room answers and `arrival` is from, in its order. clap: only claps were asked, so that only
/// they are counted.
[[nodiscard]] Agreement agreementOn(const Arrival& arrival, const std::vector<const PairEvidence*>& hits, bool clap);
} // namespace tarry
