#include "Core/Report/Describe.h"

#include "Core/Report/Drift.h"
#include "Core/Report/SideAlignment.h"

#include <algorithm>
#include <cmath>

namespace tarry
{
namespace
{
constexpr double clusterShare = 0.3;    // of the used hits, at another lag
constexpr double clusterApart = 0.001;  // s
constexpr double lateAllowed = 0.0005;  // s by which a lag may be off, and so look early
constexpr double pictureBefore = 0.010; // s of the attack picture ahead of the spot's attack

double clearDbOf(const Arrival& arrival)
{
    return 20.0 * std::log10(arrival.responseClear + 1e-3);
}

void describeHits(Report& report, const PairDecision& decision, const std::vector<KeptHit>& kept)
{
    const double lag = *decision.arrival.lag;
    std::vector<double> times, lags, elsewhere;
    for (std::size_t h = 0; h < kept.size(); ++h)
    {
        const HitArrival& arrival = decision.arrival.hits[h];
        HitReport hit;
        hit.time = kept[h].time;
        hit.waves = kept[h].waves;
        hit.lag = arrival.lag;
        hit.polarity = arrival.polarity;
        hit.clearDb = arrival.clearDb;
        hit.weight = arrival.weight;
        hit.used = isUsed(arrival);
        hit.agreeing = agrees(arrival, lag);
        if (hit.used && arrival.lag)
        {
            times.push_back(hit.time);
            lags.push_back(arrival.trendLag);
            if (!hit.agreeing) elsewhere.push_back(*arrival.lag);
        }
        report.hits.push_back(hit);
    }
    if (const auto trend = drift(times, lags, lag, agreesWithin))
    {
        report.driftPpm = trend->ppm;
        report.driftPpmSd = trend->ppmSd;
    }
    // Do the others gather anywhere?
    std::size_t most = 0;
    for (const double centre : elsewhere)
    {
        std::size_t near = 0;
        for (const double other : elsewhere) near += std::abs(other - centre) <= agreesWithin ? 1U : 0U;
        if (near <= most || std::abs(centre - lag) < clusterApart) continue;
        most = near;
        if (near >= 2 && static_cast<double>(near) >= clusterShare * decision.agreement.used)
            report.secondCluster = centre;
    }
}

void drawAttack(Report& report, const PairDecision& decision, const std::vector<KeptHit>& kept, double lookAhead)
{
    const HitWaves* best = nullptr;
    double weight = usedFrom;
    for (std::size_t h = 0; h < kept.size(); ++h)
        if (kept[h].waves && decision.arrival.hits[h].weight >= weight)
        {
            weight = decision.arrival.hits[h].weight;
            best = kept[h].waves.get();
        }
    if (best == nullptr) return;
    const auto draw = [&](const std::vector<float>& x)
    {
        const int from = std::max(0, best->onset - static_cast<int>((pictureBefore + lookAhead) * best->rate));
        return Curve{(from - best->onset) / best->rate, 1.0 / best->rate, {x.begin() + from, x.end()}};
    };
    report.spotAttack = draw(best->spot[static_cast<std::size_t>(report.spotSide)]);
    report.roomAttack = draw(best->room[static_cast<std::size_t>(report.roomChannel)]);
}
} // namespace

PairReport describePair(int side, int channel, const PairDecision& decision)
{
    PairReport pair;
    pair.spotSide = side;
    pair.roomChannel = channel;
    pair.confidence = decision.confidence;
    pair.clearDb = clearDbOf(decision.arrival);
    if (!decision.arrival.lag) return pair;
    pair.lag = wholeNanoseconds(*decision.arrival.lag);
    pair.polarity = decision.polarity;
    return pair;
}

void describe(Report& report, const PairDecision& decision, const std::vector<KeptHit>& hits, const LagGrid& grid,
              double lookAhead)
{
    report.hitsUsed = decision.agreement.used;
    report.hitsAgreeing = decision.agreement.agreeing;
    report.agreeingLoudness = decision.agreement.byLoudness;
    const Arrival& arrival = decision.arrival;
    if (!arrival.lag) return;
    report.lag = wholeNanoseconds(*arrival.lag);
    report.polarity = decision.polarity;
    if (-*report.lag > lookAhead + lateAllowed) report.lookAheadNeeded = -*report.lag;
    report.confidence = decision.confidence;
    report.features.assign(decision.judgedBy.values.begin(), decision.judgedBy.values.end());
    for (std::size_t i = 0; i < decision.candidates.size(); ++i)
    {
        const Candidate& candidate = decision.candidates[i];
        report.candidates.push_back(
            {candidate.lag, decision.probabilities[i], {candidate.figures.begin(), candidate.figures.end()}});
    }
    report.spread = decision.agreement.spread;
    report.clearDb = clearDbOf(arrival);
    report.runnerUpLag = arrival.runnerUpLag;
    report.runnerUpMargin = arrival.runnerUpShare;
    report.evidence = {grid.lag(grid.noise), PairEvidence::stride / grid.rate, decision.evidence};
    report.lowShare = decision.lowShare;
    report.signsDisagree = decision.signsDisagree;
    report.blend = decision.sum;
    for (std::size_t b = 0; b < bandCount; ++b)
        if (const BandArrival& band = arrival.bands[b]; band.clear > 0.0)
            report.bands.push_back({bands[b].low, bands[b].high, band.polarity, 20.0 * std::log10(band.clear)});
    describeHits(report, decision, hits);
    drawAttack(report, decision, hits, lookAhead);
}
} // namespace tarry
