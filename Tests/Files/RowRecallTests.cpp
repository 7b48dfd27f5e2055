#include "Files/RowRecall.h"

#include "Files/Fixtures.h"
#include "Support/Catch.h"

using namespace tarry;
using namespace tarry::test;

TEST_CASE("recall line of a row: all that the plugin asks for, lags to the nanosecond")
{
    SessionRecord record;
    record.version = "0.1.0";
    SessionRow row;
    CHECK(recallLineOf(row, record).empty());
    row.lag = 0.031084123;
    row.polarity = Polarity::inverted;
    row.lean = 0.008;
    row.confidence = 0.97;
    row.verdict = Verdict::align;
    row.decision = Decision::align;
    row.roomChannel = "left";
    CHECK(recallLineOf(row, record) ==
          "Tarry recall 1: version=0.1.0 lag=31.084123ms polarity=inverted distance=10.67m air=20.0C lean=8.000000ms "
          "whole-samples=no each-side=no hear=aligned reach=80.00ms look-ahead=0.00ms room-late=yes room-channel=left "
          "clap=no by-hand=no confidence=0.970 verdict=align trial=none end");
    row.lag = -0.0032;
    row.lean = 0.0;
    row.roomChannel = "3"; // the plugin has no such choice
    row.decision = Decision::leave;
    const auto early = recallLineOf(row, record);
    CHECK(contains(early, " look-ahead=4.00ms "));
    CHECK(contains(early, " room-channel=first "));
    CHECK(contains(early, " hear=as-recorded "));
    row.lag = 0.0912;
    CHECK(contains(recallLineOf(row, record), " reach=92.00ms "));
}
