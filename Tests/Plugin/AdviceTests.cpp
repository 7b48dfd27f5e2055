#include "Plugin/Advice.h"

#include "Support/Catch.h"

using namespace tarry;

namespace
{
Report measured(double lag)
{
    Report report;
    report.lag = lag;
    report.polarity = Polarity::normal;
    report.verdict = Verdict::align;
    report.confidence = 0.97;
    report.hitsFound = report.hitsUsed = report.hitsAgreeing = 6;
    return report;
}

std::string said(const Report& report, const Follow::State& state, const Setup& setup = {}, int spotChannels = 1)
{
    std::string all;
    for (const auto& one : adviceOn(report, state, {}, setup, spotChannels)) all += one + " ";
    return all;
}

Follow::State byHand(double lag)
{
    return {Phase::frozen, Sides::both({lag, Polarity::normal}), true, 0.0, {}, {}};
}
} // namespace

TEST_CASE("advice: beside a lag by hand the verdict is said to be the measured one's; beside the same lag nothing is")
{
    CHECK(said(measured(0.03108), byHand(0.039)) ==
          "This speaks of the measured 31.08 ms, not of the 39.00 ms set by hand. ");
    CHECK(said(measured(0.03108), byHand(0.03108)).empty());
    CHECK(said(measured(0.03108), {}).empty());
    CHECK(said({}, byHand(0.039)).empty()); // nothing measured, nothing to mistake
}

TEST_CASE("advice: sides that differ are said, where each is sure and it can be heard")
{
    auto report = measured(0.0310);
    report.pairs = {{0, 0, 0.0310, Polarity::normal, 0.95, 20.0}, {1, 0, 0.0295, Polarity::normal, 0.95, 20.0}};
    CHECK(said(report, {}, {}, 2) ==
          "The sides differ: left 31.00 ms, right 29.50 ms. 'Each side its own lag' aligns both. ");
    CHECK(said(report, {}, {}, 1).empty());
    report.pairs[1].lag = 0.03103;
    CHECK(said(report, {}, {}, 2).empty());
    report.pairs[1] = {1, 0, 0.0295, Polarity::normal, 0.5, 20.0};
    CHECK(said(report, {}, {}, 2).empty());
}

TEST_CASE("advice: a spot later than the room asks for look-ahead, or whether both are swapped")
{
    CHECK(said(measured(-0.0012), {}) == "The spot is later than the room by 1.20 ms; to move it earlier takes a "
                                         "look-ahead of 2 ms. ");
    CHECK(said(measured(-0.0031), {}, {.lookAhead = 0.01}) ==
          "Are spot and room swapped? The spot is later than the room by 3.10 ms. ");
}

TEST_CASE("advice: what is offered, with the old one in view; what the freeze button will do")
{
    const auto sides = [](double lag, Polarity polarity = Polarity::normal) { return Sides::both({lag, polarity}); };
    const auto from = std::make_shared<const Report>(measured(0.0253));
    CHECK(offerWords({Offer::Why::watched, sides(0.0253), from}, sides(0.031)) ==
          "The last 6 hits say 25.30 ms; 31.00 ms is held.");
    CHECK(offerWords({Offer::Why::rendered, sides(0.0253, Polarity::inverted), from}, std::nullopt) ==
          "Measured while rendering: 25.30 ms, inverted; the spot is as recorded.");
    using Does = Follow::FreezePlan::Does;
    CHECK(freezeWords({Does::takesEstimate, sides(0.03108)}) == "Freeze 31.08 ms");
    CHECK(freezeWords({Does::keepsHeld, sides(0.03108)}) == "Keep 31.08 ms");
    CHECK(freezeWords({Does::staysAsRecorded, std::nullopt}) == "Stay as recorded");
}

TEST_CASE("advice: the tape in the plugin as in the command")
{
    // 10.67 m at 20 degrees take 31.07 ms (343.4 m/s, ISO 9613-1).
    Setup setup;
    setup.tape = 10.67;
    CHECK(tapeWords(0.0309, setup).ends_with("that agrees."));
    CHECK(tapeWords(0.0253, setup).find("does not agree") != std::string::npos);
    CHECK(tapeWords(0.0253, setup).ends_with("shorter."));
    CHECK(tapeWords(0.0309, {}).empty());
    CHECK(tapeWords(std::nullopt, setup).empty());
}
