#include "Core/Ground/Acoustics.h"

#include "Support/Catch.h"

#include <cmath>

using namespace tarry;

TEST_CASE("speed of sound after ISO 9613-1, dry (from memory: 343.2 sqrt(T / 293.15 K))", "[acoustics]")
{
    CHECK(speedOfSound(0.0) == Approx(331.29).margin(0.005));
    CHECK(speedOfSound(15.0) == Approx(340.26).margin(0.005));
    CHECK(speedOfSound(20.0) == Approx(343.20).margin(0.005));
    CHECK(speedOfSound(25.0) == Approx(346.11).margin(0.005));
}

TEST_CASE("spots stand 35 to 40 ft from the main array (common practice): their lags at 20 degrees", "[acoustics]")
{
    const double near = travelTime(35.0 * metresPerFoot, 20.0);
    const double far = travelTime(40.0 * metresPerFoot, 20.0);
    CHECK(near * 1e3 == Approx(31.084).margin(0.001)); // microseconds: the values' last digit
    CHECK(far * 1e3 == Approx(35.525).margin(0.001));
    CHECK(near * 48000.0 == Approx(1492.03).margin(0.005));
    CHECK(far * 48000.0 == Approx(1705.17).margin(0.005));
}

TEST_CASE("one degree at 11 m, and there and back", "[acoustics]")
{
    CHECK((travelTime(11.0, 21.0) - travelTime(11.0, 20.0)) * 1e3 == Approx(-0.055).margin(0.0005));
    for (const double celsius : {-10.0, 0.0, 20.0, 40.0})
        CHECK(distanceOf(travelTime(11.0, celsius), celsius) == Approx(11.0).epsilon(1e-12));
    CHECK(distanceOf(-0.003, 20.0) == Approx(-distanceOf(0.003, 20.0)));
}

namespace
{
/// Cramer, J. Acoust. Soc. Am. 93 (1993) 2510, eq. 15, for the speed at zero frequency; coefficients from memory.
/// celsius: 0 to 30; water, carbonDioxide: mole fractions; pascal: 75000 to 102000.
double cramer(double celsius, double water, double carbonDioxide, double pascal)
{
    const double t = celsius, w = water, c = carbonDioxide, p = pascal;
    return 331.5024 + 0.603055 * t - 0.000528 * t * t + (51.471935 + 0.1495874 * t - 0.000782 * t * t) * w +
           (-1.82e-7 + 3.73e-8 * t - 2.93e-10 * t * t) * p + (-85.20931 - 0.228525 * t + 5.91e-5 * t * t) * c -
           2.835149 * w * w - 2.15e-13 * p * p + 29.179762 * c * c + 0.000486 * w * p * c;
}
} // namespace

TEST_CASE("Cramer's speed of sound, an independent one, lies within 0.06 % of ours for dry air", "[acoustics]")
{
    // The coefficients remembered above give the values that the paper is quoted for: 343.36 and 343.99 m/s at 20
    // degrees, dry and at 50 % humidity (water: 0.5 * 2338.8 Pa / 101325 Pa, enhanced by 1.004).
    CHECK(cramer(20.0, 0.0, 0.0004, 101325.0) == Approx(343.36).margin(0.01));
    CHECK(cramer(20.0, 0.5 * 2338.8 / 101325.0 * 1.004, 0.0004, 101325.0) == Approx(343.99).margin(0.02));

    // 0.06 % of 11 m is 0.02 ms: less than one degree.
    for (double celsius = 0.0; celsius <= 30.0; celsius += 5.0)
    {
        const double off = speedOfSound(celsius) / cramer(celsius, 0.0, 0.0004, 101325.0) - 1.0;
        INFO(celsius << " degrees: off by " << off * 100.0 << " %, limit 0.06 %");
        CHECK(std::abs(off) < 0.0006);
    }
}
