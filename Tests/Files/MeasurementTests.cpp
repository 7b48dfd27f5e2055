#include "Files/Measurement.h"

#include "Core/Ground/Acoustics.h"
#include "Files/Errors.h"
#include "Support/Catch.h"

#include <cmath>
#include <string>
#include <utility>
#include <vector>

using namespace tarry;

namespace
{
Measurement stereo()
{
    Measurement measurement;
    measurement.spot.channels = 2;
    measurement.spot.sampleRate = 48000;
    measurement.report.lag = 0.031;
    measurement.report.polarity = Polarity::inverted;
    // side, room channel, lag, polarity, confidence, clarity
    measurement.report.pairs = {{0, 0, 0.0312, Polarity::inverted, 0.95, 20.0},
                                {0, 1, 0.0310, Polarity::inverted, 0.97, 20.0},
                                {1, 0, 0.0305, Polarity::normal, 0.60, 8.0},
                                {1, 1, 0.0320, Polarity::normal, 0.92, 15.0}};
    return measurement;
}
} // namespace

TEST_CASE("both sides follow the one lag, unless each is asked for and sure of its own")
{
    auto measurement = stereo();
    const Alignment common{0.031, Polarity::inverted};
    CHECK(alignmentOf(measurement) == std::vector<Alignment>{common, common});

    measurement.eachSide = true; // each the earliest of its sure ones
    CHECK(alignmentOf(measurement) == std::vector<Alignment>{{0.0310, Polarity::inverted}, {0.0320, Polarity::normal}});

    measurement.report.pairs[3].confidence = 0.5;
    CHECK(alignmentOf(measurement)[1] == common);
}

TEST_CASE("no lag, nothing to apply")
{
    auto measurement = stereo();
    measurement.report.lag.reset();
    CHECK(alignmentOf(measurement).empty());
}

TEST_CASE("a lag beside the tape: what air, tape and the spot's place allow, and no more")
{
    Measurement measurement = stereo();
    CHECK_FALSE(tapeCheckOf(measurement));
    CHECK(tapeSentence(measurement).empty());
    measurement.taped = 11.0;
    measurement.settings.temperature = 20.0;
    const auto differing = [&](double seconds)
    {
        measurement.report.lag = 11.0 / 343.2 + seconds; // ISO 9613-1, from memory: 343.2 m/s dry at 20 degrees
        return *tapeCheckOf(measurement);
    };
    const TapeCheck check = differing(0.0);
    CHECK(check.agrees);
    CHECK(std::abs(check.difference) < 1e-9);
    // 11 m: +1 degree -0.055 ms; dry to 50 % relative humidity -0.059 ms (ISO 9613-1; Cramer, J. Acoust. Soc. Am. 93,
    // 1993). Three degrees, humidity up to 100 %, 0.1 m of tape, and 0.5 m from spot to drum on the shorter side.
    const double degrees = 3.0 * 0.055e-3, damp = 2.0 * 0.059e-3, tape = 0.1 / 343.2, spot = 0.5 / 343.2;
    INFO(check.longer * 1e3 << " ms longer, " << check.shorter * 1e3 << " ms shorter allowed");
    CHECK(check.longer == Approx(degrees + tape).margin(0.005e-3));
    CHECK(check.shorter == Approx(degrees + damp + tape + spot).margin(0.005e-3));
    CHECK(differing(check.longer - 1e-6).agrees);
    CHECK_FALSE(differing(check.longer + 1e-6).agrees);
    CHECK(differing(1e-6 - check.shorter).agrees);
    CHECK_FALSE(differing(-1e-6 - check.shorter).agrees);

    // A tape from the drum in a hall of any temperature that the spot stands half a metre from: the true lag agrees.
    for (const double celsius : {17.5, 20.0, 22.5})
        for (const double fromSpot : {0.1, 0.3, 0.49})
        {
            measurement.report.lag = travelTime(11.0 - fromSpot, celsius);
            INFO(celsius << " degrees, spot at " << fromSpot << " m");
            CHECK(tapeCheckOf(measurement)->agrees);
        }
    // The floor's bounce in place of the arrival: 2 m up at both ends of 11 m is 0.71 m farther.
    measurement.report.lag = travelTime(std::hypot(11.0, 4.0), 20.0);
    CHECK_FALSE(tapeCheckOf(measurement)->agrees);
    CHECK(tapeSentence(measurement).find("do not agree") != std::string::npos);
}

TEST_CASE("a late spot and a missing lag are not held against the tape")
{
    Measurement measurement = stereo();
    measurement.taped = 11.0;
    measurement.report.lag = -0.004;
    CHECK_FALSE(tapeCheckOf(measurement));
    CHECK_FALSE(tapeSentence(measurement).empty());
    measurement.report.lag.reset();
    CHECK_FALSE(tapeCheckOf(measurement));
    CHECK_FALSE(tapeSentence(measurement).empty());
}

TEST_CASE("a room's channel by its name or number; what is none is refused, however large or odd")
{
    AudioInfo room;
    room.file = "room.wav";
    room.channels = 3;
    for (const auto& [which, channel] : std::vector<std::pair<std::string, int>>{
             {"first", -1}, {"left", 0}, {"right", 1}, {"centre", 2}, {"1", 0}, {"3", 2}})
    {
        INFO(which);
        CHECK(roomChannelOf(which, room) == channel);
    }
    for (const std::string which : {"0", "-1", "4", "1.5", "550e9", "-1e300", "1e300", "nan", "inf", "rear", ""})
    {
        INFO(which);
        CHECK_THROWS_AS(roomChannelOf(which, room), InputError);
    }
}
