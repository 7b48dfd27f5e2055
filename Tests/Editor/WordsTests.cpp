#include "Editor/Words.h"

#include "Editor/MadeUp.h"
#include "Support/Catch.h"

using namespace tarry;

namespace
{
const LagScale at48{48000.0, 20.0};

std::string shown(double seconds, LagUnit unit, const LagScale& scale = at48)
{
    return lagText(seconds, unit, scale).toStdString();
}
} // namespace

TEST_CASE("Words: a lag in every unit", "[editor]")
{
    // 35 ft at 20 C is 31.084 ms, 1492.03 samples at 48 kHz: computed from c = 343.2 sqrt(T / 293.15 K), ISO 9613-1.
    const double lag = 35.0 * 0.3048 / 343.2;
    CHECK(shown(lag, LagUnit::ms) == "31.08 ms");
    CHECK(shown(lag, LagUnit::samples) == "1492.03 smp");
    CHECK(shown(lag, LagUnit::metres) == "10.67 m");
    CHECK(shown(lag, LagUnit::feet) == "35.00 ft");
    CHECK(shown(-lag, LagUnit::ms) == "\u221231.08 ms");
    CHECK(shown(-1e-7, LagUnit::ms) == "0.00 ms");
}

TEST_CASE("Words: what is typed is read in the unit on the screen, or in the one that is named", "[editor]")
{
    const double metre = 1.0 / 343.2;
    CHECK(readLag("31.084", LagUnit::ms, at48).value() == Approx(0.031084));
    CHECK(readLag(" 31,084 ms ", LagUnit::feet, at48).value() == Approx(0.031084));
    CHECK(readLag("480 samples", LagUnit::ms, at48).value() == Approx(0.01));
    CHECK(readLag("10.7m", LagUnit::ms, at48).value() == Approx(10.7 * metre));
    CHECK(readLag("35 ft", LagUnit::ms, at48).value() == Approx(35.0 * 0.3048 * metre));
    CHECK(readLag("35'", LagUnit::ms, at48).value() == Approx(35.0 * 0.3048 * metre));
    CHECK(readLag("-3", LagUnit::ms, at48).value() == Approx(-0.003));
    CHECK(readLag(juce::String::charToString(0x2212) + "3", LagUnit::ms, at48).value() == Approx(-0.003));
    for (const auto* wrong : {"", "ms", "3 miles", "1.2.3", "-", "--3", "3-4", ".", "nan", "inf", "1e3"})
    {
        CAPTURE(wrong);
        CHECK_FALSE(readLag(wrong, LagUnit::ms, at48).has_value());
    }
}

TEST_CASE("Words: what is shown is read back as the same lag, in every unit", "[editor]")
{
    for (const double rate : {44100.0, 48000.0, 192000.0})
        for (const double lag : {-0.0987, 0.0, 0.00001, 0.031084, 0.199999})
            for (int i = 0; i < lagUnitCount; ++i)
            {
                const auto unit = static_cast<LagUnit>(i);
                const LagScale scale{rate, -5.0};
                const auto text = lagText(lag, unit, scale);
                // Half of the last digit, in seconds: the largest is that of metres, 0.005 m at 328 m/s.
                INFO(text << " at " << rate << " Hz, read " << readLag(text, LagUnit::ms, scale).value_or(-1.0));
                CHECK(readLag(text, LagUnit::ms, scale).value() == Approx(lag).margin(0.0051 / 328.0));
            }
}

TEST_CASE("Words: lean says who leads in the sum, and by the sum, not by the slider", "[editor]")
{
    CHECK(gapWords(0.008) == "room leads by 8 ms");
    CHECK(gapWords(0.00803651) == "room leads by 8 ms"); // a measured gap, not a lean that was set
    CHECK(gapWords(0.0085) == "room leads by 8.5 ms");
    CHECK(gapWords(-0.02) == "spot leads by 20 ms");
    CHECK(gapWords(0.0) == "both together");

    auto model = test::madeUpModel("settled"); // measured 31.084 ms
    model.values.controls.lean = 0.008;
    CHECK(leanWords(model) == "room leads by 8 ms");
    model.values.held = Sides::both({0.021084, Polarity::normal}); // by hand, 10 ms earlier
    CHECK(leanWords(model) == "spot leads by 2 ms");
    model.report = {};
    CHECK(leanWords(model) == "8 ms later");
    model.values.hasLag = false;
    CHECK(leanWords(model) == "once there is a lag");
}

TEST_CASE("Words: a true minus everywhere", "[editor]")
{
    const auto minus = juce::String::charToString(0x2212);
    CHECK(plainNumber(-3.26, 1) == minus + "3.3");
    CHECK(plainNumber(-0.04, 1) == "0.0");
    CHECK(plainNumber(-12.0, 0) == minus + "12");
    CHECK(signedDb(-2.56) == minus + "2.6 dB");
    for (const auto& [name, model] : test::madeUpModels())
        for (const auto& words : sumWords({0.03, 0.001, -1.2, -3.4, 2.2}, Polarity::normal))
        {
            INFO(name << ": " << words);
            CHECK_FALSE(words.containsChar('-'));
        }
}

TEST_CASE("Words: no confidence is shown as certainty, and faults of the input come first", "[editor]")
{
    auto model = test::madeUpModel("settled");
    model.report.confidence = 1.0;
    CHECK(confidenceWords(model) == "lag 99 % sure");
    model.report.confidence = 0.004;
    CHECK(confidenceWords(model).isEmpty()); // no figure beside no verdict
    CHECK_FALSE(isTold(model.report));
    model.report.input = InputState::noRoom;
    CHECK(verdictWords(model) == "No room");
    CHECK(confidenceWords(model).isEmpty());
    CHECK(reasonWords(model)[0].contains("side-chain"));
    model.values.spotClipped = true;
    CHECK(reasonWords(model)[0].contains("clips"));
    CHECK(reasonWords(model).size() == 2);

    // The room is the spot itself: told as that, with what to do, whether it had hits or not.
    model.values.spotClipped = false;
    model.report.input = InputState::ownSignal;
    for (const int hits : {0, 4})
    {
        model.report.hitsFound = hits;
        CHECK(verdictWords(model) == "Own signal");
        CHECK(reasonWords(model)[0].contains("this spot's own signal"));
        CHECK(reasonWords(model)[0].contains("Feed the side-chain from the room microphone alone"));
        CHECK(reasonWords(model).size() == 1);
    }
}
