#include "Editor/Waves.h"

#include "Core/Report/BlendFigures.h"
#include "Editor/MadeUp.h"
#include "Support/Catch.h"

using namespace tarry;
using namespace tarry::test;

TEST_CASE("Waves: the sum is spot and room added, the spot later, turned over and the room as loud as asked",
          "[editor]")
{
    Waves waves;
    waves.spot = {0.0F, 1.0F, 0.5F, 0.0F, 0.0F, 0.0F};
    waves.room = {0.0F, 0.0F, 0.0F, 0.2F, 0.1F, 0.0F};
    const double sample = 1.0 / waves.rate;
    CHECK(waves.sum({}, 1.0) == std::vector<float>{0.0F, 1.0F, 0.5F, 0.2F, 0.1F, 0.0F});
    const auto moved = waves.sum({2.0 * sample, Polarity::inverted}, 2.0);
    const std::vector<float> expected{0.0F, 0.0F, 0.0F, 0.4F - 1.0F, 0.2F - 0.5F, 0.0F};
    for (std::size_t i = 0; i < expected.size(); ++i) CHECK(moved[i] == Approx(expected[i]).margin(1e-5));
    const auto between = waves.sum({0.5 * sample, Polarity::normal}, 0.0);
    CHECK(between[1] == Approx(0.5).margin(1e-5));
    CHECK(between[2] == Approx(0.75).margin(1e-5));
    CHECK(waves.sum({-1.0 * sample, Polarity::normal}, 0.0)[0] == Approx(1.0).margin(1e-5));
}

TEST_CASE("Waves: figures at full level are the engine's own; a room 12 dB down changes less", "[editor]")
{
    const auto report = madeUpModel("settled").report;
    const Alignment set{0.0305, Polarity::normal};
    const auto own = blendAt(report, 0, set);
    const auto ours = sumFigures(report, 0, set, 1.0);
    REQUIRE(own);
    REQUIRE(ours);
    CHECK(ours->attackGainDb == own->attackGainDb);
    const auto softer = sumFigures(report, 0, set, 0.251);
    REQUIRE(softer);
    CHECK(std::abs(softer->attackGainDb) < std::abs(ours->attackGainDb));
    CHECK(softer->flamAfter == ours->flamAfter);
    CHECK_FALSE(sumFigures(madeUpModel("nothing yet").report, 0, set, 1.0));
}

TEST_CASE("EditorValues: as set is what the delay will do: lean, whole samples, too short, too early", "[editor]")
{
    EditorValues values;
    CHECK(values.asSet(0) == Alignment{});
    values.hasLag = true;
    values.held = Sides::both({0.0123456, Polarity::inverted});
    values.controls.lean = 0.001;
    CHECK(values.asSet(0).lag == Approx(0.0133456));
    CHECK(values.asSet(0).polarity == Polarity::inverted);
    values.controls.wholeSamples = true;
    CHECK(values.asSet(0).lag * 48000.0 == Approx(641.0).margin(1e-9)); // 640.59
    values.controls = {};
    values.held = Sides::both({0.0003, Polarity::normal}); // 14.4 samples: shorter than the filter, so a whole one
    CHECK(values.asSet(0).lag * 48000.0 == Approx(14.0).margin(1e-9));
    values.held = Sides::both({-0.003, Polarity::normal}); // earlier than there is look-ahead
    CHECK(values.asSet(0).lag == 0.0);
    values.setup.lookAhead = 0.005;
    CHECK(values.asSet(0).lag == Approx(-0.003));
}
