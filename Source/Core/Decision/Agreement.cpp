#include "Core/Decision/Agreement.h"

#include "Core/Ground/Statistics.h"

namespace tarry
{
Agreement agreementOf(const Agreed& agreed, const std::vector<const PairEvidence*>& hits, bool clap)
{
    Agreement result;
    if (!agreed.lag) return result;
    double weight = 0.0, agreeingWeight = 0.0, loudness = 0.0, agreeingLoudness = 0.0;
    std::vector<double> lags;
    for (std::size_t h = 0; h < hits.size(); ++h)
    {
        const HitOpinion& hit = agreed.hits[h];
        if (!clap || isUsed(hit)) loudness += hits[h]->spotRise();
        if (!isUsed(hit)) continue;
        ++result.used;
        weight += hit.weight;
        if (!agrees(hit, *agreed.lag)) continue;
        ++result.agreeing;
        agreeingWeight += hit.weight;
        agreeingLoudness += hits[h]->spotRise();
        lags.push_back(*hit.lag);
    }
    if (weight > 0.0) result.byWeight = agreeingWeight / weight;
    if (loudness > 0.0) result.byLoudness = agreeingLoudness / loudness;
    result.spread = robustDeviation(lags);
    return result;
}
} // namespace tarry
