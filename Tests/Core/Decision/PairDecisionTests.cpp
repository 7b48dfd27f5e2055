// One decision per pair, as the report tells it.
#include "Core/Decision/PairDecision.h"

#include "Core/Heard.h"
#include "Core/Report/BlendFigures.h"
#include "Core/Report/SideAlignment.h"
#include "Support/Catch.h"

using namespace tarry;
using namespace tarry::test;

namespace
{
Strokes fiveStrokes(unsigned seed)
{
    Strokes strokes;
    strokes.times = evenTimes(5, 0.4, 0.7);
    strokes.seed = seed;
    return strokes;
}
} // namespace

TEST_CASE("the chosen pair's line says the report's own lag, polarity and confidence", "[decision]")
{
    // A side's lag and polarity once were filled in before copy timing and low sum had their say.
    for (unsigned seed = 1; seed <= 4; ++seed)
    {
        const Take left = makeTake(48000.0, 0.0213, fiveStrokes(seed), -0.2, -85.0);
        const Take right = makeTake(48000.0, 0.0213, fiveStrokes(seed), 0.1, -85.0);
        const Report report = heard(at(48000.0), {left.spot, right.spot}, {left.room, right.room});
        REQUIRE(report.lag);
        REQUIRE(report.pairs.size() == 4);
        const PairReport& chosen = report.pairs[static_cast<std::size_t>(report.spotSide * 2 + report.roomChannel)];
        INFO("seed " << seed);
        CHECK(chosen.lag == report.lag);
        CHECK(chosen.polarity == report.polarity);
        CHECK(chosen.confidence == report.confidence);
        const auto own = alignmentOfSide(report, report.spotSide, true);
        REQUIRE(own);
        CHECK(own->polarity == *chosen.polarity);
    }
}

TEST_CASE("a later spot is measured without look-ahead, and never as a positive lag", "[decision]")
{
    for (const double lag : {-0.0021, -0.0051, -0.0149})
        for (unsigned seed = 1; seed <= 3; ++seed)
        {
            const Report report = heard(makeTake(48000.0, lag, fiveStrokes(seed), 0.1, -75.0));
            INFO("lag " << lag * 1e3 << " ms, seed " << seed);
            REQUIRE(report.lag);
            CHECK(std::abs(*report.lag - lag) <= 0.0001);
            CHECK(std::abs(report.lookAheadNeeded + lag) <= 0.0001);
            CHECK(report.verdict == Verdict::unsure);
            MeasureSettings ahead = at(48000.0);
            ahead.lookAhead = 0.020;
            const Take take = makeTake(48000.0, lag, fiveStrokes(seed), 0.1, -75.0);
            const Report allowed = heard(ahead, {take.spot}, {take.room});
            CHECK(allowed.lookAheadNeeded == 0.0);
            CHECK(allowed.verdict == Verdict::align);
        }
}

TEST_CASE("one hit alone is never sure, looped or not; a clap is, if one is enough", "[decision]")
{
    Strokes one;
    one.times = {0.5};
    one.seed = 8;
    const Take take = makeTake(48000.0, 0.0311, one, 0.1, -75.0);
    const Report once = heard(take);
    CHECK(once.confidence < 0.9);
    CHECK(once.verdict == Verdict::unsure);
    Take looped = take;
    for (int round = 0; round < 3; ++round)
    {
        looped.spot.insert(looped.spot.end(), take.spot.begin(), take.spot.end());
        looped.room.insert(looped.room.end(), take.room.begin(), take.room.end());
    }
    const Report again = heard(looped);
    CHECK(again.hitsFound == 1);
    CHECK(again.hitsRepeated == 3);
    CHECK(again.confidence < 0.9);
    CHECK(again.verdict == Verdict::unsure);
    MeasureSettings clap = at(48000.0);
    clap.clap = true;
    CHECK(heard(clap, {take.spot}, {take.room}).verdict == Verdict::align);
}

TEST_CASE("a loop cut anywhere, at any hop of the detector, brings no new evidence", "[decision]")
{
    const Take take = makeTake(48000.0, 0.0311, fiveStrokes(2), 0.1, -75.0);
    Take looped = take;
    const std::size_t cut = 17, length = take.spot.size() - 101; // not a whole number of milliseconds
    for (int round = 0; round < 2; ++round)
        for (auto* track : {&looped.spot, &looped.room})
        {
            const Samples& from = track == &looped.spot ? take.spot : take.room;
            track->insert(track->end(), from.begin() + static_cast<std::ptrdiff_t>(cut),
                          from.begin() + static_cast<std::ptrdiff_t>(length));
        }
    const Report report = heard(looped);
    CHECK(report.hitsFound == 5);
    CHECK(report.hitsRepeated == 10);
    CHECK(report.lag == heard(take).lag);
}

TEST_CASE("the sum's figures follow what is applied, from the hits that the report keeps", "[decision]")
{
    const Report report = heard(makeTake(48000.0, 0.0213, fiveStrokes(5), 0.5, -80.0));
    REQUIRE(report.lag);
    const auto measured = blendAt(report, 0, {*report.lag, *report.polarity});
    REQUIRE(measured);
    CHECK(measured->flamBefore == Approx(0.0213).margin(1e-4));
    CHECK(measured->flamAfter == 0.0);
    CHECK(measured->attackGainDb == Approx(report.blend.attackGainDb).margin(1e-9));
    CHECK(measured->lowSumNormalDb == Approx(report.blend.lowSumNormalDb).margin(1e-9));
    const auto byHand = blendAt(report, 0, {*report.lag + 0.004, *report.polarity});
    REQUIRE(byHand);
    CHECK(byHand->flamAfter == Approx(0.004));
    CHECK(byHand->attackGainDb < measured->attackGainDb);
    CHECK(byHand->lowSumNormalDb != measured->lowSumNormalDb);
    CHECK_FALSE(blendAt(Report{}, 0, {}));
}

TEST_CASE("takes of one setup pooled say what one long take says", "[decision]")
{
    const Take first = makeTake(48000.0, 0.0213, fiveStrokes(1), 0.1, -75.0),
               second = makeTake(48000.0, 0.0213, fiveStrokes(2), 0.1, -75.0);
    const auto analysed = [](const Take& take)
    {
        Analysis analysis(at(take.sampleRate));
        for (const Hit& hit : captured(at(take.sampleRate), {take.spot}, {take.room}, [] { return 512U; }))
            analysis.add(hit);
        return analysis;
    };
    Analysis pooled = analysed(first);
    pooled.add(analysed(second));
    pooled.add(analysed(second)); // the same take once more is nothing new
    const Report report = pooled.report();
    CHECK(report.hitsFound == 10);
    CHECK(report.hitsRepeated == 5);
    REQUIRE(report.lag);
    CHECK(std::abs(*report.lag - 0.0213) <= 0.00005);
    CHECK(report.confidence >= analysed(first).report().confidence);
}
