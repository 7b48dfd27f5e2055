#include "Core/Decision/HeardHits.h"

#include <algorithm>

namespace tarry
{
namespace
{
/// Of the second clearest answer. On development scenes with a click track clicks reach 0.02 to 0.2, the player's hits
/// 0.45 to 1, soft ones 0.3.
constexpr float answerShare = 0.25F;
} // namespace

std::vector<std::size_t> heardHits(const std::vector<const PairEvidence*>& hits)
{
    std::vector<float> stands;
    for (const PairEvidence* hit : hits)
        if (hit->heard) stands.push_back(hit->largestStep - hit->noiseStep);
    std::sort(stands.rbegin(), stands.rend());
    const float reference = stands.empty() ? 0.0F : stands[std::min<std::size_t>(1, stands.size() - 1)];
    std::vector<std::size_t> heard;
    for (std::size_t h = 0; h < hits.size(); ++h)
        if (hits[h]->heard && hits[h]->largestStep - hits[h]->noiseStep >= answerShare * reference) heard.push_back(h);
    return heard;
}
} // namespace tarry
