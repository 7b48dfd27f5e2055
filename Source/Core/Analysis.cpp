#include "Core/Analysis.h"

#include "Core/Consensus.h"
#include "Core/Evidence.h"

#include <cmath>
#include <deque>

namespace tarry
{
namespace
{
constexpr std::size_t keptHits = 128; // the latest; older ones may be from before a stand moved
}

struct Analysis::State
{
    struct Kept
    {
        double time;
        std::vector<PairEvidence> pairs; // side after side, each with every room channel
    };

    explicit State(const ListenSettings& s)
        : settings(s), grid(s.sampleRate / thinningFor(s.sampleRate), s.lookAhead, s.reach), meter(grid)
    {
    }

    ListenSettings settings;
    LagGrid grid;
    EvidenceMeter meter;
    std::deque<Kept> hits;
    int found = 0;
};

Analysis::Analysis(const ListenSettings& settings) : state(std::make_unique<State>(settings)) {}
Analysis::~Analysis() = default;
Analysis::Analysis(Analysis&&) noexcept = default;
Analysis& Analysis::operator=(Analysis&&) noexcept = default;

void Analysis::add(const Hit& hit)
{
    const AnalysisWindow window(hit);
    State::Kept kept{static_cast<double>(hit.onset) / hit.sampleRate, {}};
    for (const auto& spot : window.spot)
        for (const auto& room : window.room) kept.pairs.push_back(state->meter.measure(spot, room, window.onset));
    state->hits.push_back(std::move(kept));
    if (state->hits.size() > keptHits) state->hits.pop_front();
    ++state->found;
}

Report Analysis::report() const
{
    Report report;
    report.hitsFound = state->found;
    if (state->hits.empty())
    {
        report.reasons.emplace_back("No hit was found in the spot.");
        return report;
    }
    std::vector<const PairEvidence*> hits;
    for (const auto& kept : state->hits) hits.push_back(&kept.pairs.front());
    const Agreed agreed = agree(hits, state->grid);
    report.lag = agreed.lag;
    if (report.lag) report.lag = std::round(*report.lag * 1e9) / 1e9;
    report.polarity = agreed.polarity;
    return report;
}
} // namespace tarry
