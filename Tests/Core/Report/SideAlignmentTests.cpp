#include "Core/Report/SideAlignment.h"
#include "Core/Report/SidesDiffer.h"

#include "Core/Report/Verdict.h"
#include "Support/Catch.h"

using namespace tarry;

namespace
{
Report stereo()
{
    Report report;
    report.lag = 0.0310000004; // not a whole nanosecond
    report.polarity = Polarity::normal;
    report.pairs = {{0, 0, 0.031, Polarity::normal, 0.99, 20.0},
                    {0, 1, 0.033, Polarity::normal, 0.99, 20.0},
                    {1, 0, 0.036, Polarity::inverted, 0.99, 20.0},
                    {1, 1, 0.0345, Polarity::inverted, 0.99, 20.0}};
    return report;
}
} // namespace

TEST_CASE("one lag for both sides by default, in whole nanoseconds", "[sides]")
{
    for (const int side : {0, 1})
    {
        const auto alignment = alignmentOfSide(stereo(), side, false);
        REQUIRE(alignment);
        CHECK(alignment->lag == 0.031);
        CHECK(alignment->polarity == Polarity::normal);
    }
    CHECK_FALSE(alignmentOfSide(Report{}, 0, false));
    CHECK_FALSE(alignmentOfSide(Report{}, 1, true));
}

TEST_CASE("each side its own first arrival, where that is sure", "[sides]")
{
    const auto left = alignmentOfSide(stereo(), 0, true), right = alignmentOfSide(stereo(), 1, true);
    REQUIRE(left);
    REQUIRE(right);
    CHECK(left->lag == 0.031);
    CHECK(right->lag == 0.0345);
    CHECK(right->polarity == Polarity::inverted);

    Report unsure = stereo();
    unsure.pairs[3].confidence = trusted - 0.01; // the first arrival is not to be relied on: the sure one
    CHECK(alignmentOfSide(unsure, 1, true)->lag == 0.036);
    unsure.pairs[2].confidence = trusted - 0.01; // neither: the one lag
    CHECK(alignmentOfSide(unsure, 1, true)->lag == 0.031);
    CHECK(alignmentOfSide(unsure, 1, true)->polarity == Polarity::normal);
}

TEST_CASE("whole nanoseconds", "[sides]")
{
    CHECK(wholeNanoseconds(0.0310841234567) == 0.031084123);
    CHECK(wholeNanoseconds(-0.0310841236) == -0.031084124);
    CHECK(wholeNanoseconds(wholeNanoseconds(0.123456789)) == wholeNanoseconds(0.123456789));
}

TEST_CASE("sides that differ are said where each is sure and one lag for both would be heard", "[sides]")
{
    auto report = stereo();
    CHECK(sidesDiffer(report) == "The sides differ: left 31.00 ms, right 34.50 ms, inverted.");
    for (auto& pair : report.pairs) pair.polarity = Polarity::normal;
    CHECK(sidesDiffer(report) == "The sides differ: left 31.00 ms, right 34.50 ms.");
    report.pairs[2].lag = 0.03103; // 30 us: 0.4 dB at 3 kHz
    CHECK(sidesDiffer(report).empty());
    report.pairs[2].lag = 0.03106;
    CHECK_FALSE(sidesDiffer(report).empty());
    for (auto& pair : report.pairs) pair.confidence = 0.5;
    CHECK(sidesDiffer(report).empty());
    CHECK(sidesDiffer({}).empty());
}
