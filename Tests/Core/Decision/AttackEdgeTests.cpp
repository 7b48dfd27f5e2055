#include "Core/Decision/AttackEdge.h"

#include "Core/Decision/StepStack.h"
#include "Core/Evidence/AnalysisWindow.h"
#include "Core/Heard.h"
#include "Support/Catch.h"

using namespace tarry;
using namespace tarry::test;

namespace
{
double timed(const Take& take)
{
    const auto hits = captured(at(take.sampleRate), {take.spot}, {take.room}, [] { return 512U; });
    REQUIRE(!hits.empty());
    const LagGrid grid(take.sampleRate / thinningFor(take.sampleRate), 0.0, 0.080);
    EvidenceMeter meter(grid);
    EvidenceMeter::Spot spot;
    EvidenceMeter::Room room;
    std::vector<PairEvidence> evidence;
    for (const Hit& hit : hits)
    {
        const AnalysisWindow window(hit);
        meter.measure(spot, window.spot[0], window.onset);
        meter.measure(room, window.room[0], window.onset);
        evidence.push_back(meter.pair(spot, room));
    }
    std::vector<const PairEvidence*> pointers;
    for (const PairEvidence& one : evidence) pointers.push_back(&one);
    const HitWeights weights = Ownership(pointers).weights(pointers);
    return timeByEdges(pointers, weights, grid, StepStack(pointers, weights, grid).mode().lag);
}

Strokes fourStrokes(unsigned seed)
{
    Strokes strokes;
    strokes.times = evenTimes(4, 0.3, 0.6);
    strokes.seed = seed;
    return strokes;
}
} // namespace

TEST_CASE("the edge of a bare copy lies where it is, at every rate", "[edge]")
{
    for (const double rate : {44100.0, 48000.0, 96000.0, 192000.0})
        for (unsigned seed = 1; seed <= 5; ++seed)
        {
            const double lag = 0.0210 + 0.0013 * seed;
            const double off = timed(makeTake(rate, lag, fourStrokes(seed))) - lag;
            INFO(rate << " Hz, seed " << seed << ": off by " << off * 1e3 << " ms, limit 0.06 ms");
            CHECK(std::abs(off) <= 0.00006);
        }
}

TEST_CASE("a louder reflection right after the arrival does not pull the edge late", "[edge]")
{
    for (unsigned seed = 1; seed <= 10; ++seed)
    {
        const double lag = 0.0270;
        Take take = makeTake(48000.0, lag, fourStrokes(seed), 0.05);
        addStrokes(take.room, take.sampleRate, fourStrokes(seed), lag + 0.0008, 0.15);
        const double off = timed(take) - lag;
        INFO("seed " << seed << ": off by " << off * 1e3 << " ms, limit 0.2 ms; the reflection is 0.8 ms late");
        CHECK(std::abs(off) <= 0.0002);
    }
}

TEST_CASE("where no band has an edge the steps' lag stays", "[edge]")
{
    const LagGrid grid(48000.0, 0.0, 0.080);
    PairEvidence silent;
    const std::vector<const PairEvidence*> hits{&silent};
    CHECK(timeByEdges(hits, Ownership(hits).weights(hits), grid, 0.0123) == 0.0123);
}
