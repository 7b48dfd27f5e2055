#include "Files/Measurement.h"

#include "Support/Catch.h"

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
