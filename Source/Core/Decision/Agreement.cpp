#include "Core/Decision/Agreement.h"

#include "Core/Ground/Statistics.h"

#include <algorithm>
#include <numbers>

namespace tarry
{
namespace
{
/// 0 where the arrival has half of a hit's largest evidence or less, 1 from eight tenths up.
double explains(const HitArrival& hit)
{
    return std::clamp((hit.explained - 0.5) / 0.3, 0.0, 1.0);
}
} // namespace

Agreement agreementOn(const Arrival& arrival, const std::vector<const PairEvidence*>& hits, bool clap)
{
    Agreement result;
    if (!arrival.lag) return result;
    double weight = 0.0, agreeingWeight = 0.0, loudness = 0.0, agreeingLoudness = 0.0, explained = 0.0;
    std::vector<double> lags;
    for (std::size_t h = 0; h < hits.size(); ++h)
    {
        const HitArrival& hit = arrival.hits[h];
        if (clap && !isUsed(hit)) continue;
        const double loud = hits[h]->spotRise();
        loudness += loud;
        explained += explains(hit) * loud;
        if (!isUsed(hit)) continue;
        ++result.used;
        weight += hit.weight;
        if (!agrees(hit, *arrival.lag)) continue;
        ++result.agreeing;
        agreeingWeight += hit.weight;
        agreeingLoudness += loud;
        lags.push_back(*hit.lag);
    }
    if (weight > 0.0) result.byWeight = agreeingWeight / weight;
    if (loudness > 0.0) result.byLoudness = agreeingLoudness / loudness;
    if (loudness > 0.0) result.explained = explained / loudness;
    result.spread = robustDeviation(lags);
    std::vector<double> steps;
    for (std::size_t i = 1; i < lags.size(); ++i) steps.push_back((lags[i] - lags[i - 1]) / std::numbers::sqrt2);
    result.jitter = robustDeviation(steps);
    return result;
}
} // namespace tarry
