#pragma once
#include "Core/Decision/Consensus.h"

#include <vector>

namespace tarry
{
inline constexpr double usedFrom = 0.1;        ///< weight from which a hit is used
inline constexpr double agreesWithin = 0.0005; ///< s from the agreed lag within which a hit agrees

/// How far the hits fall together.
struct Agreement
{
    int used = 0, agreeing = 0; ///< hits
    double byWeight = 0.0;      ///< 0 to 1: share of the used hits' weight that agrees
    double byLoudness = 0.0;    ///< 0 to 1: share of what the spot hears of all hits, used or not, that agrees
    double spread = 0.0;        ///< s, robust standard deviation of the agreeing hits' own lags
};

[[nodiscard]] inline bool isUsed(const HitOpinion& hit)
{
    return hit.weight >= usedFrom;
}
[[nodiscard]] inline bool agrees(const HitOpinion& hit, double lag)
{
    return isUsed(hit) && hit.lag && std::abs(*hit.lag - lag) <= agreesWithin;
}

/// hits: those that `agreed` is from, in its order. clap: only claps were asked, so that only they are counted.
[[nodiscard]] Agreement agreementOf(const Agreed& agreed, const std::vector<const PairEvidence*>& hits, bool clap);
} // namespace tarry
