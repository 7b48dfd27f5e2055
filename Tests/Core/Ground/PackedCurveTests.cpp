#include "Core/Ground/PackedCurve.h"

#include "Support/Catch.h"

#include <cmath>
#include <limits>
#include <random>

using namespace tarry;

TEST_CASE("a packed curve is the curve to half of a 32767th of its largest value", "[curve]")
{
    std::mt19937 engine(11);
    std::normal_distribution<float> value(0.0F, 1e-3F);
    std::vector<float> curve(1001);
    for (float& x : curve) x = value(engine);
    curve[700] = -0.25F;
    const PackedCurve packed(curve);
    REQUIRE(packed.size() == curve.size());
    CHECK(packed[700] == Approx(-0.25));
    double worst = 0.0;
    for (std::size_t i = 0; i < curve.size(); ++i)
        worst = std::max(worst, std::abs(packed[i] - static_cast<double>(curve[i])));
    CHECK(worst <= 0.5001 * 0.25 / 32767.0);
    CHECK(worst > 0.4 * 0.25 / 32767.0); // it is packed, not copied
}

TEST_CASE("a packed curve adds a stretch of itself, weighted, to a sum", "[curve]")
{
    const std::vector<float> curve{0.0F, 1.0F, -2.0F, 0.5F, 0.25F};
    const PackedCurve packed(curve);
    std::vector<double> sum{10.0, 20.0, 30.0};
    packed.addTo(sum, -3.0, 1);
    CHECK(sum[0] == Approx(7.0).margin(2e-4));
    CHECK(sum[1] == Approx(26.0).margin(2e-4));
    CHECK(sum[2] == Approx(28.5).margin(2e-4));
}

TEST_CASE("silence, the smallest values and nothing at all are packed too", "[curve]")
{
    CHECK(PackedCurve().size() == 0);
    std::vector<double> none;
    PackedCurve().addTo(none, 1.0);
    const PackedCurve silent(std::vector<float>(3, 0.0F));
    CHECK(silent[2] == 0.0);
    for (const float one : {std::numeric_limits<float>::denorm_min(), std::numeric_limits<float>::max()})
    {
        const PackedCurve packed(std::vector<float>{one, -one});
        CHECK(packed[0] == Approx(static_cast<double>(one)));
        CHECK(packed[1] == -packed[0]);
    }
}
