#include "Core/Analysis.h"

#include "Core/Capture/InputCheck.h"
#include "Core/Decision/Agreement.h"
#include "Core/Decision/Confidence.h"
#include "Core/Decision/CopyTiming.h"
#include "Core/Evidence/Evidence.h"
#include "Core/Ground/Statistics.h"
#include "Core/Report/BlendFigures.h"
#include "Core/Report/Drift.h"
#include "Core/Report/SideAlignment.h"
#include "Core/Report/Verdict.h"

#include <cmath>
#include <deque>

namespace tarry
{
namespace
{
constexpr std::size_t keptHits = 128;   // the latest: older ones may be from before a stand was moved
constexpr std::size_t keptWindows = 24; // hits whose waveforms are kept for the blend's figures
constexpr double clusterShare = 0.3;    // of the used hits, at another lag
constexpr double clusterApart = 0.001;  // s
constexpr double believable = 0.5;      // of the best pair's confidence: a room channel may be first only from here on
constexpr double leakShare = 0.25;      // of hits and pairs in which a leak has to show before it is said
constexpr double pictureBefore = 0.010; // s of the attack picture ahead of the spot's attack
constexpr double lowDrum = 0.55;        // share of the attack below 250 Hz that makes a low drum
constexpr double lowAboveBefore = 6.0;  // dB above the moment before, or the low end is hum or an old ring
constexpr double clearLowSum = 3.0;     // dB between both polarities from which the low end may decide
} // namespace

struct Analysis::State
{
    struct Kept
    {
        double time = 0.0;
        std::vector<PairEvidence> pairs;       // side after side, each with every room channel
        std::shared_ptr<const HitWaves> waves; // null once the hit is older
        std::vector<double> leaks;             // gains of the leaks that were set aside
    };

    /// One spot side against one room channel.
    struct Pair
    {
        int side = 0, channel = 0;
        Agreed agreed;
        Agreement agreement;
        double confidence = 0.0;
        Features judgedBy;
    };

    explicit State(const MeasureSettings& s)
        : settings(s), grid(s.sampleRate / thinningFor(s.sampleRate), s.lookAhead, s.reach), meter(grid)
    {
    }

    void keep(Kept kept);
    [[nodiscard]] Pair consult(int side, int channel) const;
    [[nodiscard]] int louderSide() const;
    [[nodiscard]] std::optional<double> leakDb() const;
    [[nodiscard]] const Pair& choose(const std::vector<Pair>& pairs) const;
    [[nodiscard]] std::vector<BlendHit> blendHits(const Pair& pair) const;
    void timeBareCopy(Pair& pair) const;
    void describeHits(Report& report, const Pair& pair) const;
    void decidePolarity(Report& report, const Pair& pair, const std::vector<BlendHit>& hits) const;
    void drawAttack(Report& report, const std::vector<BlendHit>& hits) const;

    MeasureSettings settings;
    LagGrid grid;
    EvidenceMeter meter;
    std::deque<Kept> hits;
    InputState input = InputState::good;
    int found = 0;
};

Analysis::Analysis(const MeasureSettings& settings) : state(std::make_unique<State>(settings)) {}
Analysis::~Analysis() = default;
Analysis::Analysis(Analysis&&) noexcept = default;
Analysis& Analysis::operator=(Analysis&&) noexcept = default;

void Analysis::add(const Hit& hit)
{
    AnalysisWindow window(hit);
    if (tracksBegin(window)) return;
    state->input = checkInputs(window);
    ++state->found;
    if (state->input != InputState::good) return;

    State::Kept kept;
    kept.time = static_cast<double>(hit.onset) / hit.sampleRate;
    for (const auto& spot : window.spot)
        for (auto room : window.room)
        {
            if (const double gain = leakGain(spot, room, window.onset, window.rate); gain != 0.0)
            {
                kept.leaks.push_back(std::abs(gain));
                for (std::size_t i = 0; i < room.size(); ++i) room[i] -= gain * spot[i];
            }
            kept.pairs.push_back(state->meter.measure(spot, room, window.onset));
        }
    auto waves = std::make_shared<HitWaves>();
    waves->rate = window.rate;
    waves->onset = window.onset;
    for (const auto& x : window.spot) waves->spot.emplace_back(x.begin(), x.end());
    for (const auto& x : window.room) waves->room.emplace_back(x.begin(), x.end());
    kept.waves = std::move(waves);
    state->keep(std::move(kept));
}

void Analysis::add(const Analysis& other)
{
    if (other.state->input != InputState::good) return;
    state->input = InputState::good;
    state->found += other.state->found;
    for (const State::Kept& kept : other.state->hits) state->keep(kept);
}

void Analysis::State::keep(Kept kept)
{
    hits.push_back(std::move(kept));
    if (hits.size() > keptHits) hits.pop_front();
    if (hits.size() > keptWindows) hits[hits.size() - 1 - keptWindows].waves.reset();
}

Analysis::State::Pair Analysis::State::consult(int side, int channel) const
{
    const auto index = static_cast<std::size_t>(side * settings.roomChannels + channel);
    std::vector<const PairEvidence*> evidence;
    for (const Kept& kept : hits) evidence.push_back(&kept.pairs[index]);
    Pair pair;
    pair.side = side;
    pair.channel = channel;
    pair.agreed = agree(evidence, grid, settings.clap);
    pair.agreement = agreementOf(pair.agreed, evidence, settings.clap);
    if (!pair.agreed.lag) return pair;
    pair.judgedBy = features(pair.agreed, pair.agreement);
    pair.confidence = tarry::confidence(pair.judgedBy);
    return pair;
}

int Analysis::State::louderSide() const
{
    if (settings.spotChannels < 2) return 0;
    double left = 0.0, right = 0.0;
    for (const Kept& kept : hits)
    {
        left += kept.pairs.front().spotRise();
        right += kept.pairs.back().spotRise();
    }
    return right > left ? 1 : 0;
}

/// A leak is there all the time: one that few hits show is chance.
std::optional<double> Analysis::State::leakDb() const
{
    std::vector<double> gains;
    std::size_t pairs = 0;
    for (const Kept& kept : hits)
    {
        gains.insert(gains.end(), kept.leaks.begin(), kept.leaks.end());
        pairs += kept.pairs.size();
    }
    if (gains.empty() || static_cast<double>(gains.size()) < leakShare * static_cast<double>(pairs)) return {};
    return 20.0 * std::log10(quantile(gains, 0.5));
}

/// The louder spot side; the room channel that was asked for, or the first arrival among those that can be believed.
const Analysis::State::Pair& Analysis::State::choose(const std::vector<Pair>& pairs) const
{
    const auto first = static_cast<std::size_t>(louderSide() * settings.roomChannels);
    const auto channels = static_cast<std::size_t>(settings.roomChannels);
    if (settings.roomChannel >= 0 && settings.roomChannel < settings.roomChannels)
        return pairs[first + static_cast<std::size_t>(settings.roomChannel)];
    double best = 0.0;
    for (std::size_t c = 0; c < channels; ++c) best = std::max(best, pairs[first + c].confidence);
    const Pair* chosen = nullptr;
    for (std::size_t c = 0; c < channels; ++c)
    {
        const Pair& pair = pairs[first + c];
        if (!pair.agreed.lag || pair.confidence < believable * best) continue;
        if (chosen == nullptr || *pair.agreed.lag < *chosen->agreed.lag) chosen = &pair;
    }
    return chosen != nullptr ? *chosen : pairs[first];
}

std::vector<BlendHit> Analysis::State::blendHits(const Pair& pair) const
{
    std::vector<BlendHit> result;
    for (std::size_t h = 0; h < hits.size(); ++h)
        if (hits[h].waves && isUsed(pair.agreed.hits[h]))
            result.push_back({hits[h].waves->spot[static_cast<std::size_t>(pair.side)],
                              hits[h].waves->room[static_cast<std::size_t>(pair.channel)], hits[h].waves->onset,
                              pair.agreed.hits[h].weight});
    return result;
}

/// A bare copy is timed as such; its hits' own lags move along.
void Analysis::State::timeBareCopy(Pair& pair) const
{
    if (!pair.agreed.copyLag) return;
    const auto lag = timeCopy(blendHits(pair), grid.rate, *pair.agreed.copyLag);
    if (!lag) return;
    for (HitOpinion& hit : pair.agreed.hits)
        if (hit.lag) *hit.lag += *lag - *pair.agreed.lag;
    pair.agreed.lag = lag;
}

void Analysis::State::describeHits(Report& report, const Pair& pair) const
{
    std::vector<double> times, lags, elsewhere;
    for (std::size_t h = 0; h < hits.size(); ++h)
    {
        const HitOpinion& opinion = pair.agreed.hits[h];
        HitReport hit;
        hit.time = hits[h].time;
        hit.waves = hits[h].waves;
        hit.lag = opinion.lag;
        hit.polarity = opinion.polarity;
        hit.clearDb = opinion.clearDb;
        hit.weight = opinion.weight;
        hit.used = isUsed(opinion);
        hit.agreeing = agrees(opinion, *pair.agreed.lag);
        if (hit.used && opinion.lag)
        {
            times.push_back(hit.time);
            lags.push_back(opinion.trendLag);
            if (!hit.agreeing) elsewhere.push_back(*opinion.lag);
        }
        report.hits.push_back(hit);
    }
    if (const auto trend = drift(times, lags, *pair.agreed.lag, agreesWithin))
    {
        report.driftPpm = trend->ppm;
        report.driftPpmSd = trend->ppmSd;
    }
    // Do the others gather anywhere?
    std::size_t most = 0;
    for (const double centre : elsewhere)
    {
        std::size_t near = 0;
        for (const double lag : elsewhere) near += std::abs(lag - centre) <= agreesWithin ? 1U : 0U;
        if (near <= most || std::abs(centre - *pair.agreed.lag) < clusterApart) continue;
        most = near;
        if (near >= 2 && static_cast<double>(near) >= clusterShare * pair.agreement.used) report.secondCluster = centre;
    }
}

/// The attack's first push decides, but on a low drum the low end of the sum: that is what the ear misses.
void Analysis::State::decidePolarity(Report& report, const Pair& pair, const std::vector<BlendHit>& blend) const
{
    report.lowShare = tarry::lowShare(blend, grid.rate);
    report.blend = judgeBlend(blend, grid.rate, *report.lag, {*report.lag, Polarity::normal});
    const double difference = report.blend.lowSumNormalDb - report.blend.lowSumInvertedDb;
    const Polarity low = difference >= 0.0 ? Polarity::normal : Polarity::inverted;
    const bool lowIsClear =
        std::abs(difference) >= clearLowSum && lowClearDb(blend, grid.rate, *report.lag) >= lowAboveBefore;
    report.signsDisagree = lowIsClear && low != pair.agreed.polarity;
    report.polarity = lowIsClear && report.lowShare >= lowDrum ? low : pair.agreed.polarity;
    report.blend = judgeBlend(blend, grid.rate, *report.lag, {*report.lag, *report.polarity});
}

void Analysis::State::drawAttack(Report& report, const std::vector<BlendHit>& blend) const
{
    if (blend.empty()) return;
    const BlendHit& best =
        *std::max_element(blend.begin(), blend.end(), [](const auto& a, const auto& b) { return a.weight < b.weight; });
    const auto draw = [&](std::span<const float> x)
    {
        const int from = std::max(0, best.onset - static_cast<int>((pictureBefore + settings.lookAhead) * grid.rate));
        return Curve{(from - best.onset) / grid.rate, 1.0 / grid.rate, {x.begin() + from, x.end()}};
    };
    report.spotAttack = draw(best.spot);
    report.roomAttack = draw(best.room);
}

Report Analysis::report() const
{
    Report report;
    report.clap = state->settings.clap;
    report.hitsFound = state->found;
    report.input = state->input;
    if (!state->hits.empty())
    {
        std::vector<State::Pair> pairs;
        for (int side = 0; side < state->settings.spotChannels; ++side)
            for (int channel = 0; channel < state->settings.roomChannels; ++channel)
            {
                pairs.push_back(state->consult(side, channel));
                const Agreed& agreed = pairs.back().agreed;
                PairReport pair{side,
                                channel,
                                agreed.lag,
                                {},
                                pairs.back().confidence,
                                20.0 * std::log10(agreed.responseClear + 1e-3)};
                if (agreed.lag) pair.polarity = agreed.polarity;
                report.pairs.push_back(pair);
            }
        State::Pair pair = state->choose(pairs);
        state->timeBareCopy(pair);
        report.spotSide = pair.side;
        report.roomChannel = pair.channel;
        report.hitsUsed = pair.agreement.used;
        report.hitsAgreeing = pair.agreement.agreeing;
        report.agreeingLoudness = pair.agreement.byLoudness;
        if (pair.agreed.lag)
        {
            const std::vector<BlendHit> blend = state->blendHits(pair);
            report.lag = wholeNanoseconds(*pair.agreed.lag);
            report.confidence = pair.confidence;
            report.features.assign(pair.judgedBy.values.begin(), pair.judgedBy.values.end());
            report.spread = pair.agreement.spread;
            report.clearDb = 20.0 * std::log10(pair.agreed.responseClear + 1e-3);
            report.runnerUpLag = pair.agreed.runnerUpLag;
            report.runnerUpMargin = pair.agreed.runnerUpShare;
            report.evidence = {state->grid.lag(state->grid.noise), PairEvidence::stride / state->grid.rate,
                               pair.agreed.evidence};
            state->describeHits(report, pair);
            for (std::size_t b = 0; b < bandCount; ++b)
                if (const BandOpinion& band = pair.agreed.bands[b]; band.clear > 0.0)
                    report.bands.push_back({bands[b].low, bands[b].high, band.polarity, 20.0 * std::log10(band.clear)});
            state->decidePolarity(report, pair, blend);
            state->drawAttack(report, blend);
        }
        report.leakDb = state->leakDb();
    }
    judge(report);
    return report;
}
} // namespace tarry
