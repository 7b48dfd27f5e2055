#include "Core/Analysis.h"

#include "Core/Capture/Fingerprint.h"
#include "Core/Capture/InputCheck.h"
#include "Core/Decision/PairDecision.h"
#include "Core/Evidence/Evidence.h"
#include "Core/Ground/Peaks.h"
#include "Core/Ground/Statistics.h"
#include "Core/Report/Describe.h"
#include "Core/Report/Verdict.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <deque>
#include <iterator>

namespace tarry
{
namespace
{
// The latest hits: older ones may be from before a stand was moved. Memory and the time of a report grow with hits
// times pairs, so with many microphones fewer hits are kept.
constexpr std::size_t hitsOfAllPairs = 128, fewestHits = 24;
constexpr std::size_t wavesOfAllChannels = 40, fewestWaves = 8; // for the sum's figures
constexpr double believable = 0.5;    // of the best pair's confidence: a room channel may be first only from here on
constexpr double clearlyLouder = 2.0; // 3 dB of energy: a choice of our own, between a balance and another microphone
constexpr double leakShare = 0.25;    // of hits and pairs in which a leak has to show before it is said

/// 0 to 1: how far the room's answer stands out of what was there before; a click's does not.
double standsOut(const PairEvidence& hit)
{
    return std::clamp(0.5 * (static_cast<double>(hit.largestStep) / (static_cast<double>(hit.noiseStep) + 1e-9) - 1.0),
                      0.0, 1.0);
}
} // namespace

struct Analysis::State
{
    struct Kept
    {
        KeptHit hit;
        std::uint64_t print = 0;
        std::vector<PairEvidence> pairs; // side after side, each with every room channel
        std::vector<double> leaks;       // gains of the leaks that were set aside
        bool ownSignal = false;          // every room channel is the spot itself, later
    };

    explicit State(const MeasureSettings& s)
        : settings(s), grid(s.sampleRate / thinningFor(s.sampleRate), s.lookAhead, s.reach), meter(grid),
          responses(pairCount())
    {
    }

    [[nodiscard]] std::size_t pairCount() const
    {
        return static_cast<std::size_t>(settings.spotChannels * settings.roomChannels);
    }
    [[nodiscard]] std::size_t keptHits() const { return std::max(hitsOfAllPairs / pairCount(), fewestHits); }
    [[nodiscard]] std::size_t keptWaves() const
    {
        const auto channels = static_cast<std::size_t>(settings.spotChannels + settings.roomChannels);
        return std::max(wavesOfAllChannels / channels, fewestWaves);
    }
    [[nodiscard]] bool isKnown(std::uint64_t print) const
    {
        return std::any_of(hits.begin(), hits.end(), [print](const Kept& kept) { return kept.print == print; });
    }
    void measure(Kept& kept, AnalysisWindow& window);
    [[nodiscard]] bool isOwn(const Kept& kept, const AnalysisWindow& window) const;
    void keep(Kept kept);
    void sumResponses(const Kept& kept, double sign);
    [[nodiscard]] PairHits hitsOf(std::size_t pair) const;
    [[nodiscard]] bool hearsItself() const;
    void chooseSide(const Kept& kept);
    [[nodiscard]] std::optional<double> leakDb() const;
    [[nodiscard]] std::size_t choose(const std::vector<PairDecision>& pairs) const;

    MeasureSettings settings;
    LagGrid grid;
    EvidenceMeter meter;
    EvidenceMeter::Spot ours; // of the hit that is just being measured, as are the rooms
    std::vector<EvidenceMeter::Room> rooms;
    EvidenceMeter::Room withoutLeak;
    std::deque<Kept> hits;
    std::vector<std::vector<double>> responses; // of each pair, of all kept hits by loudness; empty before the first
    InputState input = InputState::good;
    int found = 0, repeated = 0;
    int chosenSide = 0;               // of the spot: the one that the report speaks of
    std::array<double, 2> sideRise{}; // by how much the attacks of all hits rose in each
};

Analysis::Analysis(const MeasureSettings& settings) : state(std::make_unique<State>(settings)) {}
Analysis::~Analysis() = default;
Analysis::Analysis(Analysis&&) noexcept = default;
Analysis& Analysis::operator=(Analysis&&) noexcept = default;

void Analysis::add(const Hit& hit)
{
    const std::uint64_t print = fingerprint(hit);
    if (state->isKnown(print))
    {
        ++state->repeated;
        return;
    }
    AnalysisWindow window(hit);
    if (tracksBegin(window)) return;
    state->input = checkInputs(window);
    ++state->found;
    if (state->input != InputState::good) return;

    State::Kept kept;
    kept.print = print;
    kept.hit.time = static_cast<double>(hit.onset) / hit.sampleRate;
    state->measure(kept, window);
    kept.ownSignal = state->isOwn(kept, window);
    auto waves = std::make_shared<HitWaves>();
    waves->rate = window.rate;
    waves->onset = window.onset;
    for (const auto& x : window.spot) waves->spot.emplace_back(x.begin(), x.end());
    for (const auto& x : window.room) waves->room.emplace_back(x.begin(), x.end());
    std::vector<std::span<const float>> channels(waves->spot.begin(), waves->spot.end());
    channels.insert(channels.end(), waves->room.begin(), waves->room.end());
    auto lows = lowBands(channels, window.rate);
    const auto rooms = lows.begin() + static_cast<std::ptrdiff_t>(waves->spot.size());
    waves->lowSpot.assign(std::make_move_iterator(lows.begin()), std::make_move_iterator(rooms));
    waves->lowRoom.assign(std::make_move_iterator(rooms), std::make_move_iterator(lows.end()));
    kept.hit.waves = std::move(waves);
    state->keep(std::move(kept));
}

void Analysis::add(const Analysis& other)
{
    if (other.state->input != InputState::good) return;
    state->input = InputState::good;
    state->repeated += other.state->repeated;
    state->found += other.state->found - static_cast<int>(other.state->hits.size());
    for (const State::Kept& kept : other.state->hits)
    {
        const bool known = state->isKnown(kept.print);
        ++(known ? state->repeated : state->found);
        if (!known) state->keep(kept);
    }
}

/// Each channel is analysed once; a room with a leak of the spot in it once more without the leak.
void Analysis::State::measure(Kept& kept, AnalysisWindow& window)
{
    rooms.resize(window.room.size());
    for (std::size_t c = 0; c < rooms.size(); ++c) meter.measure(rooms[c], window.room[c], window.onset);
    for (const auto& spot : window.spot)
    {
        meter.measure(ours, spot, window.onset);
        for (std::size_t c = 0; c < rooms.size(); ++c)
        {
            const double gain = leakGain(spot, window.room[c], window.onset, window.rate);
            if (gain == 0.0)
            {
                kept.pairs.push_back(meter.pair(ours, rooms[c]));
                continue;
            }
            kept.leaks.push_back(std::abs(gain));
            std::vector<double> room = window.room[c];
            for (std::size_t i = 0; i < room.size(); ++i) room[i] -= gain * spot[i];
            meter.measure(withoutLeak, room, window.onset);
            kept.pairs.push_back(meter.pair(ours, withoutLeak));
        }
    }
}

/// Asked where a hit's response has its largest value: a copy has but one.
bool Analysis::State::isOwn(const Kept& kept, const AnalysisWindow& window) const
{
    for (std::size_t p = 0; p < pairCount(); ++p)
    {
        std::vector<double> whole;
        kept.pairs[p].addResponse(whole, 1.0);
        const int middle = (grid.noise + grid.count) / 2;
        const int peak = largestNear(whole, middle, grid.count - middle);
        const std::size_t side = p / static_cast<std::size_t>(settings.roomChannels);
        const std::size_t channel = p % static_cast<std::size_t>(settings.roomChannels);
        if (peak < 0 || !isOwnSignal(window.spot[side], window.room[channel], window.onset, grid.lag(peak), grid.rate))
            return false;
    }
    return true;
}

/// By routing every hit comes back; a single one is no more than chance would allow.
bool Analysis::State::hearsItself() const
{
    const auto own = std::count_if(hits.begin(), hits.end(), [](const Kept& kept) { return kept.ownSignal; });
    return own > 0 && 2 * own > static_cast<std::ptrdiff_t>(hits.size());
}

void Analysis::State::keep(Kept kept)
{
    chooseSide(kept);
    sumResponses(kept, 1.0);
    hits.push_back(std::move(kept));
    if (hits.size() > keptHits())
    {
        sumResponses(hits.front(), -1.0);
        hits.pop_front();
    }
    if (hits.size() > keptWaves()) hits[hits.size() - 1 - keptWaves()].hit.waves.reset();
}

void Analysis::State::sumResponses(const Kept& kept, double sign)
{
    for (std::size_t p = 0; p < pairCount(); ++p)
    {
        const PairEvidence& pair = kept.pairs[p];
        if (pair.heard) pair.addResponse(responses[p], sign * std::sqrt(pair.spotRise()) * standsOut(pair));
    }
}

PairHits Analysis::State::hitsOf(std::size_t pair) const
{
    const std::size_t side = pair / static_cast<std::size_t>(settings.roomChannels);
    const std::size_t channel = pair % static_cast<std::size_t>(settings.roomChannels);
    PairHits result;
    result.response = responses[pair];
    for (const Kept& kept : hits)
    {
        result.evidence.push_back(&kept.pairs[pair]);
        if (!kept.hit.waves)
            result.firstWave = result.evidence.size();
        else
            result.waves.push_back({kept.hit.waves->spot[side], kept.hit.waves->room[channel], kept.hit.waves->onset,
                                    1.0, kept.hit.waves->lowSpot[side], kept.hit.waves->lowRoom[channel]});
    }
    return result;
}

/// The louder side, chosen with the first hit and kept: which end of a recording was heard last must not decide. Only a
/// side that is clearly louder over all hits takes its place.
void Analysis::State::chooseSide(const Kept& kept)
{
    if (settings.spotChannels < 2) return;
    const bool first = sideRise[0] + sideRise[1] <= 0.0;
    sideRise[0] += kept.pairs.front().spotRise();
    sideRise[1] += kept.pairs.back().spotRise();
    const auto here = static_cast<std::size_t>(chosenSide), there = 1 - here;
    if (sideRise[there] > sideRise[here] * (first ? 1.0 : clearlyLouder)) chosenSide = 1 - chosenSide;
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
std::size_t Analysis::State::choose(const std::vector<PairDecision>& pairs) const
{
    const auto channels = static_cast<std::size_t>(settings.roomChannels);
    const std::size_t first = static_cast<std::size_t>(chosenSide) * channels;
    if (settings.roomChannel >= 0 && settings.roomChannel < settings.roomChannels)
        return first + static_cast<std::size_t>(settings.roomChannel);
    double best = 0.0;
    for (std::size_t p = first; p < first + channels; ++p) best = std::max(best, pairs[p].confidence);
    std::optional<std::size_t> chosen;
    for (std::size_t p = first; p < first + channels; ++p)
    {
        if (!pairs[p].arrival.lag || pairs[p].confidence < believable * best) continue;
        if (!chosen || *pairs[p].arrival.lag < *pairs[*chosen].arrival.lag) chosen = p;
    }
    return chosen.value_or(first);
}

Report Analysis::report() const
{
    Report report;
    report.clap = state->settings.clap;
    report.hitsFound = state->found;
    report.hitsRepeated = state->repeated;
    report.input = state->hearsItself() ? InputState::ownSignal : state->input;
    if (!state->hits.empty() && report.input != InputState::ownSignal)
    {
        const int channels = state->settings.roomChannels;
        std::vector<PairDecision> pairs;
        for (std::size_t p = 0; p < state->pairCount(); ++p)
        {
            pairs.push_back(decide(state->hitsOf(p), state->grid, state->settings.clap));
            report.pairs.push_back(
                describePair(static_cast<int>(p) / channels, static_cast<int>(p) % channels, pairs.back()));
        }
        const std::size_t chosen = state->choose(pairs);
        report.spotSide = static_cast<int>(chosen) / channels;
        report.roomChannel = static_cast<int>(chosen) % channels;
        report.hitsUnheard = pairs[chosen].unheard;
        std::vector<KeptHit> hits;
        for (const State::Kept& kept : state->hits) hits.push_back(kept.hit);
        describe(report, pairs[chosen], hits, state->grid, state->settings.lookAhead);
        report.leakDb = state->leakDb();
    }
    judge(report);
    return report;
}
} // namespace tarry
