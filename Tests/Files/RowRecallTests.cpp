#include "Files/RowRecall.h"

#include "Core/Controls/RecallLine.h"
#include "Support/Catch.h"

using namespace tarry;

TEST_CASE("recall line of a row: read as the plugin reads it, it sets the same")
{
    SessionRecord record;
    record.version = "0.1.0";
    record.wholeSamples = true;
    SessionRow row;
    CHECK(recallLineOf(row, record).empty());
    row.cue = "2";
    row.instrument = "side drum";
    row.lag = 0.031084123;
    row.polarity = Polarity::inverted;
    row.lean = 0.008;
    row.confidence = 1.0;
    row.verdict = Verdict::align;
    row.decision = Decision::align;
    row.roomChannel = "left";
    const auto recall = readRecallLine(recallLineOf(row, record));
    REQUIRE(recall.held);
    CHECK(*recall.held == Sides::both({0.031084123, Polarity::inverted}));
    CHECK(recall.controls.lean == 0.008);
    CHECK(recall.controls.wholeSamples);
    CHECK(recall.controls.aligned);
    CHECK(recall.controls.roomChannel == 0);
    CHECK(recall.controls.reach == 0.080);
    CHECK(recall.setup.lookAhead == 0.0);
    CHECK(recall.confidence < 1.0);
    CHECK(recall.verdict == Verdict::align);

    row.lag = -0.0032;
    row.lean = 0.0;
    row.roomChannel = "3"; // the plugin has no such choice
    row.decision = Decision::leave;
    const auto early = readRecallLine(recallLineOf(row, record));
    CHECK(early.setup.lookAhead == 0.004);
    CHECK(early.controls.roomChannel == -1);
    CHECK_FALSE(early.controls.aligned);
    row.lag = 0.0912;
    CHECK(readRecallLine(recallLineOf(row, record)).controls.reach == 0.092);
}
