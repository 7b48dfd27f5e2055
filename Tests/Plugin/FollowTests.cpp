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

constexpr FollowRules keepMeasuring{}, thenFreeze{.freezeWhenSettled = true}, clap{.clap = true};
} // namespace

TEST_CASE("settled needs the verdict, the confidence and the hits, each of them")
{
    REQUIRE(Follow::isSettled(sureReport(0.03), keepMeasuring));

    auto report = sureReport(0.03);
    report.confidence = 0.89;
    CHECK_FALSE(Follow::isSettled(report, keepMeasuring));

    report = sureReport(0.03);
    report.hitsAgreeing = 3;
    CHECK_FALSE(Follow::isSettled(report, keepMeasuring));
    report.hitsAgreeing = 4;
    CHECK(Follow::isSettled(report, keepMeasuring));
    report.hitsAgreeing = 1;
    CHECK(Follow::isSettled(report, clap));

    for (const auto verdict : {Verdict::leave, Verdict::unsure})
    {
        report = sureReport(0.03);
        report.verdict = verdict;
        CHECK_FALSE(Follow::isSettled(report, keepMeasuring));
    }
    for (const auto input : {InputState::noRoom, InputState::sameSignal})
    {
        report = sureReport(0.03);
        report.input = input;
        CHECK_FALSE(Follow::isSettled(report, keepMeasuring));
    }
    report = sureReport(0.03);
    report.lag.reset();
    CHECK_FALSE(Follow::isSettled(report, keepMeasuring));
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
    CHECK_FALSE(follow.consider(unsure, keepMeasuring));
    CHECK_FALSE(follow.held().has_value());

    CHECK(follow.consider(sureReport(0.0300), keepMeasuring));
    CHECK(follow.phase() == Phase::settled);
    REQUIRE(follow.held().has_value());
    CHECK(follow.held()->side[0].lag == 0.0300);

    CHECK_FALSE(follow.consider(sureReport(0.03002), keepMeasuring));
    CHECK(follow.held()->side[0].lag == 0.0300);
    CHECK(follow.consider(sureReport(0.0302), keepMeasuring));
    CHECK(follow.held()->side[0].lag == 0.0302);

    CHECK(follow.consider(unsure, keepMeasuring));
    CHECK(follow.phase() == Phase::measuring);
    CHECK(follow.held()->side[0].lag == 0.0302);
}

TEST_CASE("freezing takes the finest figure when settled, and otherwise what is applied")
{
    Follow follow;
    follow.consider(sureReport(0.0300), keepMeasuring);
    follow.consider(sureReport(0.03002), keepMeasuring);
    follow.freeze(sureReport(0.03002), keepMeasuring);
    CHECK(follow.phase() == Phase::frozen);
    CHECK(follow.held()->side[0].lag == 0.03002);

    CHECK_FALSE(follow.consider(sureReport(0.05), thenFreeze));
    CHECK(follow.held()->side[0].lag == 0.03002);

    Follow nothing;
    auto unsure = sureReport(0.03);
    unsure.confidence = 0.5;
    nothing.freeze(unsure, keepMeasuring);
    CHECK(nothing.phase() == Phase::frozen);
    CHECK_FALSE(nothing.held().has_value());
    CHECK(nothing.apply(unsure, keepMeasuring)); // by choice, sure or not
    CHECK(nothing.held()->side[0].lag == 0.03);
}

TEST_CASE("measuring again keeps what is held until something new is applied; step by step back, and forward")
{
    Follow follow;
    CHECK_FALSE(follow.undo({}));
    follow.consider(sureReport(0.030), thenFreeze);
    CHECK(follow.phase() == Phase::frozen);

    follow.measure();
    CHECK(follow.phase() == Phase::measuring);
    CHECK(follow.held()->side[0].lag == 0.030);
    follow.consider(sureReport(0.0400), keepMeasuring);
    follow.consider(sureReport(0.0401), keepMeasuring); // moves while following: the same step
    CHECK(follow.held()->side[0].lag == 0.0401);
    follow.setByHand(Sides::both({0.035, Polarity::normal}), "the lag by hand");

    CHECK(follow.history().undoWords() == "the lag by hand");
    CHECK(follow.undo({}));
    CHECK(follow.held()->side[0].lag == 0.0401);
    CHECK(follow.history().undoWords() == "the measured lag");
    CHECK(follow.undo({}));
    CHECK(follow.held()->side[0].lag == 0.030);
    CHECK(follow.phase() == Phase::frozen);
    CHECK(follow.undo({}));
    CHECK_FALSE(follow.held().has_value());
    CHECK_FALSE(follow.undo({}));
    CHECK(follow.redo({}));
    CHECK(follow.held()->side[0].lag == 0.030);
    CHECK(follow.redo({}));
    CHECK(follow.redo({}));
    CHECK(follow.held()->side[0].lag == 0.035);
    CHECK(follow.byHand());
    CHECK_FALSE(follow.redo({}));
    follow.undo({});
    follow.setByHand(Sides::both({0.05, Polarity::normal}), "the lag by hand");
    CHECK_FALSE(follow.redo({})); // another way was taken
}

TEST_CASE("by hand: frozen, and a drag is one step; what is told beside it stays the measured lag's")
{
    Follow follow;
    follow.consider(sureReport(0.030), thenFreeze);
    follow.setByHand(Sides::both({0.031, Polarity::inverted}), "the lag by hand");
    follow.setByHand(Sides::both({0.032, Polarity::inverted}), "the lag by hand", true);
    follow.setByHand(Sides::both({0.033, Polarity::inverted}), "the lag by hand", true);
    CHECK(follow.byHand());
    CHECK(follow.held()->side[1].lag == 0.033);
    REQUIRE(follow.state().told != nullptr);
    CHECK(follow.state().told->lag == 0.030);
    CHECK(follow.besideHeld() == Sides::both({0.030, Polarity::normal})); // what an A/B of two lags compares it with
    CHECK(follow.undo({}));
    CHECK(follow.held()->side[0].lag == 0.030);
    CHECK_FALSE(follow.byHand());
}

TEST_CASE("a lag or polarity set by hand is never overwritten by a measurement: that is offered")
{
    Follow follow;
    follow.setByHand(Sides::both({0.0500, Polarity::inverted}), "the lag by hand");
    follow.measure();
    CHECK(follow.consider(sureReport(0.030), thenFreeze));
    CHECK(follow.held() == Sides::both({0.0500, Polarity::inverted}));
    REQUIRE(follow.offer().has_value());
    CHECK(follow.offer()->why == Offer::Why::besideByHand);
    CHECK(follow.offer()->sides == Sides::both({0.030, Polarity::normal}));
    CHECK(follow.freezePlan(sureReport(0.030), thenFreeze).sides == follow.held()); // neither by freezing
    CHECK(follow.takeOffer());                                                      // told to
    CHECK(follow.held() == Sides::both({0.030, Polarity::normal}));
    CHECK_FALSE(follow.byHand());
    CHECK_FALSE(follow.offer().has_value());
    CHECK(follow.undo({}));
    CHECK(follow.byHand());
    CHECK(follow.held()->side[0].lag == 0.0500);
}

TEST_CASE("while measuring, a lag that has moved is offered with the old one held; turned down, it is not asked again")
{
    Follow follow;
    follow.consider(sureReport(0.0300), keepMeasuring);
    CHECK(follow.consider(sureReport(0.0307), keepMeasuring)); // more than a measurement is off
    CHECK(follow.held()->side[0].lag == 0.0300);
    REQUIRE(follow.offer().has_value());
    CHECK(follow.offer()->why == Offer::Why::moved);
    CHECK_FALSE(follow.consider(sureReport(0.0307), keepMeasuring)); // said once
    follow.dismissOffer();
    CHECK_FALSE(follow.consider(sureReport(0.0307), keepMeasuring));
    CHECK_FALSE(follow.offer().has_value());
    CHECK(follow.consider(sureReport(0.0300, Polarity::inverted), keepMeasuring)); // turned over is another one too
    CHECK(follow.held()->side[0].polarity == Polarity::normal);
}

TEST_CASE("freezing with an estimate of align holds that estimate, from two hits on; one alone only as a clap")
{
    auto two = sureReport(0.0300);
    two.hitsFound = two.hitsUsed = two.hitsAgreeing = 2;
    Follow follow;
    follow.consider(two, keepMeasuring);
    CHECK(follow.phase() == Phase::measuring); // not settled
    using Does = Follow::FreezePlan::Does;
    CHECK(follow.freezePlan(two, keepMeasuring).does == Does::takesEstimate);
    CHECK(follow.freezePlan(two, keepMeasuring).sides == Sides::both({0.0300, Polarity::normal}));
    follow.freeze(two, keepMeasuring);
    CHECK(follow.held() == Sides::both({0.0300, Polarity::normal}));

    auto one = two;
    one.hitsFound = one.hitsUsed = one.hitsAgreeing = 1;
    Follow alone;
    CHECK(alone.freezePlan(one, keepMeasuring).does == Does::staysAsRecorded);
    CHECK(alone.freezePlan(one, clap).does == Does::takesEstimate);
    alone.freeze(one, keepMeasuring);
    CHECK_FALSE(alone.held().has_value());
    auto leave = two;
    leave.verdict = Verdict::leave;
    CHECK(Follow().freezePlan(leave, keepMeasuring).does == Does::staysAsRecorded);
}

TEST_CASE("a spot later than the room is applied only as far as the look-ahead goes")
{
    const auto late = sureReport(-0.004);
    const FollowRules none{.freezeWhenSettled = true}, enough{.freezeWhenSettled = true, .lookAhead = 0.004};
    Follow follow;
    follow.consider(late, none);
    CHECK_FALSE(follow.held().has_value());
    CHECK(follow.freezePlan(late, none).does == Follow::FreezePlan::Does::staysAsRecorded);
    CHECK_FALSE(follow.apply(late, none)); // not even by choice: it could not be heard
    CHECK(follow.consider(late, enough));
    CHECK(follow.phase() == Phase::frozen);
    CHECK(follow.held()->side[0].lag == -0.004);
}

TEST_CASE("an offline render holds what it began with; what it measured is offered and never taken by itself")
{
    Follow follow;
    follow.setByHand(Sides::both({0.010, Polarity::normal}), "the lag by hand");
    follow.measure();
    CHECK(follow.consider(sureReport(0.030), thenFreeze, true));
    CHECK(follow.held()->side[0].lag == 0.010);
    REQUIRE(follow.offer().has_value());
    CHECK(follow.offer()->why == Offer::Why::rendered);
    CHECK(follow.phase() == Phase::settled);
    follow.consider(sureReport(0.030), thenFreeze); // playing again
    CHECK(follow.held()->side[0].lag == 0.010);
    CHECK(follow.phase() == Phase::settled);
    CHECK(follow.takeOffer());
    CHECK(follow.phase() == Phase::frozen);
}

TEST_CASE("watch: frozen, it says when the held lag no longer fits, moves nothing, and takes it back when it fits")
{
    Follow follow;
    CHECK_FALSE(follow.watch(sureReport(0.0253), keepMeasuring)); // nothing held, nothing to compare
    follow.consider(sureReport(0.0310), thenFreeze);
    CHECK_FALSE(follow.watch(sureReport(0.0312), keepMeasuring)); // within what a measurement is off
    CHECK(follow.watch(sureReport(0.0253), keepMeasuring));
    REQUIRE(follow.offer().has_value());
    CHECK(follow.offer()->why == Offer::Why::watched);
    CHECK(follow.held()->side[0].lag == 0.0310);
    CHECK(follow.phase() == Phase::frozen);
    auto unsure = sureReport(0.020);
    unsure.confidence = 0.5;
    CHECK_FALSE(follow.watch(unsure, keepMeasuring)); // no reason to change what was said
    CHECK(follow.watch(sureReport(0.0310), keepMeasuring));
    CHECK_FALSE(follow.offer().has_value());
}

TEST_CASE("watch: a lag by hand is where somebody wants it; what can have moved is the measured one beside it")
{
    Follow follow;
    follow.consider(sureReport(0.0310), thenFreeze);
    follow.setByHand(Sides::both({0.0390, Polarity::normal}), "the lag by hand");
    CHECK_FALSE(follow.watch(sureReport(0.0310), keepMeasuring));
    CHECK(follow.watch(sureReport(0.0253), keepMeasuring));
    CHECK(follow.held()->side[0].lag == 0.0390);
}

TEST_CASE("undo brings back what stood beside what is held, and redo what came after")
{
    Follow follow;
    const Beside before{.settings = {{"lean", 0.0}}, .trial = {}, .preset = "Plain"};
    follow.remember("the preset 'Mine'", before);
    CHECK(follow.history().undoWords() == "the preset 'Mine'");
    const Beside after{.settings = {{"lean", 8.0}}, .trial = "right:9/16", .preset = "Mine"};
    CHECK(follow.undo(after) == before);
    CHECK(follow.redo(before) == Beside{.settings = {{"lean", 8.0}}, .trial = {}, .preset = "Mine"});
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
    follow.consider(sureReport(0.030), thenFreeze);
    CHECK(follow.undo({}));
    CHECK(follow.phase() == Phase::measuring);
    CHECK_FALSE(follow.held().has_value()); // as recorded, as before
    CHECK(follow.redo({}));
    CHECK(follow.phase() == Phase::frozen);
    CHECK(follow.held() == Sides::both({0.030, Polarity::normal}));

    Follow byChoice;
    byChoice.consider(sureReport(0.030), keepMeasuring);
    byChoice.freeze(sureReport(0.0301), keepMeasuring);
    CHECK(byChoice.phase() == Phase::frozen);
    CHECK(byChoice.held()->side[0].lag == 0.0301);
    CHECK(byChoice.undo({}));
    CHECK(byChoice.phase() == Phase::measuring);
    CHECK(byChoice.held()->side[0].lag == 0.030); // what it followed before
    CHECK(byChoice.undo({}));
    CHECK_FALSE(byChoice.held().has_value());
}

TEST_CASE("restored: what is held is frozen, whatever was going on; with nothing held it goes on as it was")
{
    Follow follow;
    follow.restore({Phase::frozen, Sides::both({0.03, Polarity::inverted}), false, 0.9, Verdict::align, {}}, {});
    CHECK(follow.phase() == Phase::frozen);
    CHECK_FALSE(follow.history().canUndo());
    follow.restore({Phase::settled, Sides::both({0.03, Polarity::inverted}), false, 0.9, Verdict::align, {}}, {});
    CHECK(follow.phase() == Phase::frozen);
    CHECK(follow.held()->side[0].polarity == Polarity::inverted);
    follow.restore({Phase::measuring, Sides::both({0.03, Polarity::normal}), true, 0.0, {}, {}}, {});
    CHECK(follow.phase() == Phase::frozen);
    follow.restore({Phase::measuring, std::nullopt, false, 0.0, {}, {}}, {});
    CHECK(follow.phase() == Phase::measuring);
    follow.restore({Phase::frozen, std::nullopt, false, 0.0, {}, {}}, {});
    CHECK(follow.phase() == Phase::frozen);
}
