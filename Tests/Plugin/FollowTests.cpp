#include "Plugin/Follow.h"
#include "Support/Catch.h"

#include <cmath>
#include <numbers>

using namespace tarry;

namespace
{
Report sureReport(double lag, Polarity polarity = Polarity::normal)
{
    Report report;
    report.lag = lag;
    report.polarity = polarity;
    report.verdict = Verdict::align;
    report.confidence = 0.95;
    report.hitsFound = report.hitsUsed = report.hitsAgreeing = 5;
    return report;
}

constexpr bool noClap = false, together = false, keepMeasuring = false, thenFreeze = true;
} // namespace

TEST_CASE("settled needs the verdict, the confidence and the hits, each of them")
{
    REQUIRE(Follow::isSettled(sureReport(0.03), noClap));

    auto report = sureReport(0.03);
    report.confidence = 0.89;
    CHECK_FALSE(Follow::isSettled(report, noClap));

    report = sureReport(0.03);
    report.hitsAgreeing = 3;
    CHECK_FALSE(Follow::isSettled(report, noClap));
    report.hitsAgreeing = 4;
    CHECK(Follow::isSettled(report, noClap));
    report.hitsAgreeing = 1;
    CHECK(Follow::isSettled(report, true));

    for (const auto verdict : {Verdict::leave, Verdict::unsure})
    {
        report = sureReport(0.03);
        report.verdict = verdict;
        CHECK_FALSE(Follow::isSettled(report, noClap));
    }
    for (const auto input : {InputState::noRoom, InputState::sameSignal})
    {
        report = sureReport(0.03);
        report.input = input;
        CHECK_FALSE(Follow::isSettled(report, noClap));
    }
    report = sureReport(0.03);
    report.lag.reset();
    CHECK_FALSE(Follow::isSettled(report, noClap));
}

TEST_CASE("a change that can be heard costs 1 dB at 3 kHz in the sum of equals")
{
    // Two equal signals t apart add up to 2 cos(pi f t): elementary, recomputed here.
    const double loss = -20.0 * std::log10(std::cos(std::numbers::pi * 3000.0 * Follow::audibleChange));
    INFO("loss at 3 kHz " << loss << " dB, expected 1.0 +- 0.05");
    CHECK(std::abs(loss - 1.0) < 0.05);

    const auto at = [](double lag, Polarity polarity = Polarity::normal) { return Sides::both({lag, polarity}); };
    CHECK_FALSE(Follow::canBeHeard(at(0.03), at(0.03 + 0.9 * Follow::audibleChange)));
    CHECK(Follow::canBeHeard(at(0.03), at(0.03 - 1.1 * Follow::audibleChange)));
    CHECK(Follow::canBeHeard(at(0.03), at(0.03, Polarity::inverted)));
    auto oneSide = at(0.03);
    oneSide.side[1].lag += 0.001;
    CHECK(Follow::canBeHeard(at(0.03), oneSide));
}

TEST_CASE("measuring, settled, and what is applied moves only when it can be heard")
{
    Follow follow;
    CHECK(follow.phase() == Phase::measuring);
    CHECK_FALSE(follow.held().has_value());

    auto unsure = sureReport(0.03);
    unsure.verdict = Verdict::unsure;
    CHECK_FALSE(follow.consider(unsure, noClap, together, keepMeasuring));
    CHECK_FALSE(follow.held().has_value());

    CHECK(follow.consider(sureReport(0.0300), noClap, together, keepMeasuring));
    CHECK(follow.phase() == Phase::settled);
    REQUIRE(follow.held().has_value());
    CHECK(follow.held()->side[0].lag == 0.0300);

    CHECK_FALSE(follow.consider(sureReport(0.03002), noClap, together, keepMeasuring));
    CHECK(follow.held()->side[0].lag == 0.0300);
    CHECK(follow.consider(sureReport(0.0302), noClap, together, keepMeasuring));
    CHECK(follow.held()->side[0].lag == 0.0302);

    CHECK(follow.consider(unsure, noClap, together, keepMeasuring));
    CHECK(follow.phase() == Phase::measuring);
    CHECK(follow.held()->side[0].lag == 0.0302);
}

TEST_CASE("freezing takes the finest figure when settled, and otherwise what is applied")
{
    Follow follow;
    follow.consider(sureReport(0.0300), noClap, together, keepMeasuring);
    follow.consider(sureReport(0.03002), noClap, together, keepMeasuring);
    follow.freeze(sureReport(0.03002), noClap, together);
    CHECK(follow.phase() == Phase::frozen);
    CHECK(follow.held()->side[0].lag == 0.03002);

    CHECK_FALSE(follow.consider(sureReport(0.05), noClap, together, thenFreeze));
    CHECK(follow.held()->side[0].lag == 0.03002);

    Follow nothing;
    auto unsure = sureReport(0.03);
    unsure.confidence = 0.5;
    nothing.freeze(unsure, noClap, together);
    CHECK(nothing.phase() == Phase::frozen);
    CHECK_FALSE(nothing.held().has_value());
    CHECK(nothing.apply(unsure, together)); // by choice, sure or not
    CHECK(nothing.held()->side[0].lag == 0.03);
}

TEST_CASE("measuring again keeps what is held until something new is applied; one step of undo, and forward")
{
    Follow follow;
    CHECK_FALSE(follow.undo());
    follow.consider(sureReport(0.030), noClap, together, thenFreeze);
    CHECK(follow.phase() == Phase::frozen);

    follow.measure();
    CHECK(follow.phase() == Phase::measuring);
    CHECK(follow.held()->side[0].lag == 0.030);
    follow.consider(sureReport(0.040), noClap, together, keepMeasuring);
    follow.consider(sureReport(0.041), noClap, together, keepMeasuring); // moves while following: the same step
    CHECK(follow.held()->side[0].lag == 0.041);

    CHECK(follow.undo());
    CHECK(follow.held()->side[0].lag == 0.030);
    CHECK(follow.phase() == Phase::frozen);
    CHECK(follow.undo());
    CHECK(follow.held()->side[0].lag == 0.041);
    CHECK(follow.phase() == Phase::frozen);
}

TEST_CASE("by hand: frozen, and a drag is one step")
{
    Follow follow;
    follow.consider(sureReport(0.030), noClap, together, thenFreeze);
    follow.setByHand(Sides::both({0.031, Polarity::inverted}));
    follow.setByHand(Sides::both({0.032, Polarity::inverted}), true);
    follow.setByHand(Sides::both({0.033, Polarity::inverted}), true);
    CHECK(follow.byHand());
    CHECK(follow.held()->side[1].lag == 0.033);
    CHECK(follow.undo());
    CHECK(follow.held()->side[0].lag == 0.030);
    CHECK_FALSE(follow.byHand());
}

TEST_CASE("each side follows its own pair where that is sure, by the room channel that it reaches first")
{
    auto report = sureReport(0.030);
    report.pairs = {{0, 0, 0.0300, Polarity::normal, 0.95, 20.0},
                    {0, 1, 0.0310, Polarity::normal, 0.95, 20.0},
                    {1, 0, 0.0295, Polarity::inverted, 0.95, 20.0},
                    {1, 1, 0.0200, Polarity::normal, 0.30, 20.0}};
    const auto own = Follow::estimate(report, true);
    REQUIRE(own.has_value());
    CHECK(own->side[0] == Alignment{0.0300, Polarity::normal});
    CHECK(own->side[1] == Alignment{0.0295, Polarity::inverted});
    const auto shared = Follow::estimate(report, false);
    CHECK(*shared == Sides::both({0.030, Polarity::normal}));
}

TEST_CASE("a freeze can be undone, the first one too, and done again")
{
    Follow follow;
    follow.consider(sureReport(0.030), noClap, together, thenFreeze);
    CHECK(follow.undo());
    CHECK(follow.phase() == Phase::measuring);
    CHECK_FALSE(follow.held().has_value()); // as recorded, as before
    CHECK(follow.undo());
    CHECK(follow.phase() == Phase::frozen);
    CHECK(follow.held() == Sides::both({0.030, Polarity::normal}));

    Follow byChoice;
    byChoice.consider(sureReport(0.030), noClap, together, keepMeasuring);
    byChoice.freeze(sureReport(0.0301), noClap, together);
    CHECK(byChoice.phase() == Phase::frozen);
    CHECK(byChoice.undo());
    CHECK(byChoice.phase() == Phase::measuring);
    CHECK_FALSE(byChoice.held().has_value());
}

TEST_CASE("restored: what is held is frozen, whatever was going on; with nothing held it goes on as it was")
{
    Follow follow;
    follow.restore({Phase::frozen, Sides::both({0.03, Polarity::inverted}), false, 0.9, Verdict::align}, std::nullopt);
    CHECK(follow.phase() == Phase::frozen);
    CHECK_FALSE(follow.canUndo());
    follow.restore({Phase::settled, Sides::both({0.03, Polarity::inverted}), false, 0.9, Verdict::align}, std::nullopt);
    CHECK(follow.phase() == Phase::frozen);
    CHECK(follow.held()->side[0].polarity == Polarity::inverted);
    follow.restore({Phase::measuring, Sides::both({0.03, Polarity::normal}), true, 0.0, {}}, std::nullopt);
    CHECK(follow.phase() == Phase::frozen);
    follow.restore({Phase::measuring, std::nullopt, false, 0.0, {}}, std::nullopt);
    CHECK(follow.phase() == Phase::measuring);
    follow.restore({Phase::frozen, std::nullopt, false, 0.0, {}}, std::nullopt);
    CHECK(follow.phase() == Phase::frozen);
}
