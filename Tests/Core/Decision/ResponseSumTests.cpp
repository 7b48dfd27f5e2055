#include "Core/Decision/ResponseSum.h"

#include "Support/Catch.h"

#include <cmath>
#include <random>

using namespace tarry;

TEST_CASE("around the lag and in the yardstick it is the weighted sum, elsewhere nothing", "[response]")
{
    const LagGrid grid(48000.0, 0.0, 0.080);
    std::mt19937 engine(5);
    std::normal_distribution<float> value;
    std::vector<PairEvidence> hits(3);
    for (PairEvidence& hit : hits)
        for (PackedCurve& response : hit.response)
        {
            std::vector<float> curve(static_cast<std::size_t>(grid.count));
            for (float& x : curve) x = value(engine);
            response = PackedCurve(curve);
        }
    const std::vector<std::array<double, bandCount>> weights{{1.0, 0.5, 0.0, 0.2}, {0.3, 0.0, 1.0, 0.1}, {}};
    const double lag = 0.0311;
    const ResponseSum sum({&hits[0], &hits[1], &hits[2]}, weights, grid, lag);
    const int centre = static_cast<int>(std::lround(grid.index(lag)));
    for (std::size_t b = 0; b < bandCount; ++b)
        for (const int i : {centre - 100, centre, centre + 150, grid.noise - 1, grid.noise - noiseHeard(grid)})
        {
            const auto k = static_cast<std::size_t>(i);
            double expected = 0.0;
            for (std::size_t h = 0; h < hits.size(); ++h) expected += weights[h][b] * hits[h].response[b][k];
            CHECK(sum.ofBand(b)[k] == Approx(expected).margin(1e-12));
        }
    const std::vector<double> all = sum.ofLowest(bandCount);
    CHECK(all[static_cast<std::size_t>(centre)] ==
          Approx(sum.ofBand(0)[static_cast<std::size_t>(centre)] + sum.ofBand(1)[static_cast<std::size_t>(centre)] +
                 sum.ofBand(2)[static_cast<std::size_t>(centre)] + sum.ofBand(3)[static_cast<std::size_t>(centre)]));
    CHECK(all[static_cast<std::size_t>(centre + 1000)] == 0.0);
    CHECK(sum.noise(all) > 0.0);
}
