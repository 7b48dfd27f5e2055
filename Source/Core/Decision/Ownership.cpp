#include "Core/Decision/Ownership.h"

#include "Core/Ground/Statistics.h"

#include <algorithm>
#include <cmath>
#include <numeric>

namespace tarry
{
namespace
{
constexpr double margin = 10.0;     // dB below the most own at which a hit, or a band of it, counts half
constexpr double groupsApart = 6.0; // dB between the means of two groups of hits, at least
constexpr double groupsClear = 3.0; // times the deviation within them, at least
constexpr double fewest = 0.2;      // share of all hits that the player's own have to be
constexpr double aboveTheirs = 5.0; // dB above a neighbour's usual figure in a band at which that band counts half
constexpr double clapFrom = 1000.0; // Hz: a clap is bright, a footstep or a soft low drum loud only below
constexpr double clapRange = 6.0;   // dB below the loudest clap
constexpr double softness = 2.0;    // dB over which a weight goes from half to nearly all

double share(double db, double border)
{
    return 1.0 / (1.0 + std::exp(-(db - border) / softness));
}

constexpr double fullStep = 6.0;     // natural log of a step from which a band counts fully
constexpr double fullRise = 12.0;    // dB of the room above the moment before from which it does
constexpr double leastWeight = 0.02; // less is left out

/// A clear step in a quiet moment: 0 to 1.
double clearness(const BandEvidence& e)
{
    return std::min(e.size, fullStep) / fullStep * std::clamp(e.riseDb / fullRise, 0.0, 1.0);
}

/// Over all bands. Energy rises, not levels: a drum that still rings does not make a neighbour's hit the player's own.
double ownDb(const PairEvidence& hit)
{
    double room = 0.0;
    for (const BandEvidence& e : hit.band) room += e.roomRise;
    return 10.0 * std::log10((hit.spotRise() + 1e-20) / (room + 1e-20));
}
} // namespace

Ownership::Ownership(const std::vector<const PairEvidence*>& hits, bool clap)
{
    std::vector<double> own;
    own.reserve(hits.size());
    for (const PairEvidence* hit : hits) own.push_back(ownDb(*hit));
    setHitBorder(own);
    if (clap) hitShare = claps(hits);
    if (!hitShare.empty()) twoGroups = false; // the others do not count
    if (hitShare.empty())
        for (double db : own) hitShare.push_back(share(db, hitBorder));
    for (std::size_t b = 0; b < bandCount; ++b)
    {
        std::vector<double> ours, theirs;
        for (std::size_t h = 0; h < hits.size(); ++h)
            if (hits[h]->band[b].present) (hitShare[h] > 0.5 ? ours : theirs).push_back(hits[h]->band[b].ownDb());
        bandBorder[b] = quantile(ours, 0.9) - margin;
        if (twoGroups && !theirs.empty()) bandBorder[b] = std::max(bandBorder[b], quantile(theirs, 0.5) + aboveTheirs);
    }
}

std::vector<double> Ownership::claps(const std::vector<const PairEvidence*>& hits)
{
    std::vector<double> loudness;
    for (const PairEvidence* hit : hits)
    {
        double rise = 0.0;
        bool everyBand = true;
        for (std::size_t b = 0; b < bandCount; ++b)
        {
            everyBand = everyBand && hit->band[b].present;
            if (bands[b].low >= clapFrom) rise += hit->band[b].spotRise;
        }
        loudness.push_back(everyBand ? rise : 0.0);
    }
    const double loudest = loudness.empty() ? 0.0 : *std::max_element(loudness.begin(), loudness.end());
    if (loudest <= 0.0) return {};
    for (double& x : loudness) x = x >= loudest * std::pow(10.0, -clapRange / 10.0) ? 1.0 : 0.0;
    return loudness;
}

/// Splits the hits where the variance between two groups is largest (Otsu 1979).
void Ownership::setHitBorder(const std::vector<double>& ownDb)
{
    std::vector<double> x(ownDb);
    std::sort(x.begin(), x.end());
    hitBorder = quantile(x, 0.9) - margin;
    double best = 0.0;
    for (std::size_t cut = 1; cut < x.size(); ++cut)
    {
        const auto middle = x.begin() + static_cast<std::ptrdiff_t>(cut);
        const double below = static_cast<double>(cut), above = static_cast<double>(x.size() - cut);
        const double low = std::accumulate(x.begin(), middle, 0.0) / below;
        const double high = std::accumulate(middle, x.end(), 0.0) / above;
        double within = 0.0;
        for (auto v = x.begin(); v != x.end(); ++v) within += std::pow(*v - (v < middle ? low : high), 2.0);
        within = std::sqrt(within / (below + above));
        const double between = below * above * (high - low) * (high - low);
        if (between <= best || high - low < std::max(groupsApart, groupsClear * within)) continue;
        if (above < 2.0 || above < fewest * (below + above)) continue; // one odd hit is no group
        best = between;
        hitBorder = 0.5 * (low + high);
        twoGroups = true;
    }
}

double Ownership::ofBand(std::size_t hit, std::size_t band, double bandOwnDb) const
{
    return hitShare[hit] * share(bandOwnDb, bandBorder[band]);
}

HitWeights Ownership::weights(const std::vector<const PairEvidence*>& hits) const
{
    HitWeights result(hits.size());
    for (std::size_t h = 0; h < hits.size(); ++h)
        for (std::size_t b = 0; b < bandCount; ++b)
        {
            const BandEvidence& e = hits[h]->band[b];
            if (!e.present) continue;
            const double w = ofBand(h, b, e.ownDb()) * clearness(e);
            if (w >= leastWeight) result[h][b] = w;
        }
    return result;
}

HitWeights weightsByLoudness(const std::vector<const PairEvidence*>& hits)
{
    double loudest = 1e-20;
    for (const PairEvidence* hit : hits) loudest = std::max(loudest, hit->spotRise());
    HitWeights result(hits.size());
    for (std::size_t h = 0; h < hits.size(); ++h)
        for (std::size_t b = 0; b < bandCount; ++b)
            if (hits[h]->band[b].present)
                result[h][b] = std::sqrt(hits[h]->spotRise() / loudest) * clearness(hits[h]->band[b]);
    return result;
}
} // namespace tarry
