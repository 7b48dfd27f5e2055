#include "Core/Ground/Bands.h"

#include "Support/Catch.h"

#include <cmath>
#include <complex>
#include <numbers>
#include <vector>

using namespace tarry;

namespace
{
/// Gain in dB at one frequency, from the impulse response, which has to have died away within a quarter of a second.
template <typename Filter>
double decibelsAt(Filter filter, double hertz, double sampleRate)
{
    std::complex<double> sum = 0.0;
    const int frames = static_cast<int>(0.25 * sampleRate);
    for (int i = 0; i < frames; ++i)
        sum += filter(i == 0 ? 1.0 : 0.0) * std::polar(1.0, -2.0 * std::numbers::pi * hertz / sampleRate * i);
    return 20.0 * std::log10(std::abs(sum) + 1e-12);
}

constexpr double halfPower = -3.0103; // 10 log10(1/2)
} // namespace

TEST_CASE("each edge is a Butterworth's: half the power there, flat beyond, 12 dB an octave before", "[bands]")
{
    for (const double rate : {44100.0, 48000.0, 96000.0, 192000.0})
        for (const Band& band : bands)
        {
            INFO(band.low << " to " << band.high << " Hz at " << rate << " Hz");
            const Biquad high = Biquad::highPass(band.low, rate);
            const Biquad low = Biquad::lowPass(band.high, rate);
            CHECK(decibelsAt(high, band.low, rate) == Approx(halfPower).margin(0.001));
            CHECK(decibelsAt(low, band.high, rate) == Approx(halfPower).margin(0.001));

            // Butterworth, second order: |H|^2 = 1 / (1 + (f0/f)^4); the bilinear transform warps f to tan(pi f /
            // rate).
            const auto warped = [rate](double hertz) { return std::tan(std::numbers::pi * hertz / rate); };
            for (const double ratio : {0.125, 0.5, 2.0, 4.0})
                for (const double edge : {band.low, band.high})
                {
                    const double hertz = edge * ratio;
                    if (hertz > 0.45 * rate) continue;
                    const double x = warped(hertz) / warped(edge);
                    CHECK(decibelsAt(Biquad::highPass(edge, rate), hertz, rate) ==
                          Approx(-10.0 * std::log10(1.0 + std::pow(x, -4.0))).margin(0.01));
                    CHECK(decibelsAt(Biquad::lowPass(edge, rate), hertz, rate) ==
                          Approx(-10.0 * std::log10(1.0 + std::pow(x, 4.0))).margin(0.01));
                }
        }
}

TEST_CASE("a band filter passes its band and nothing constant", "[bands]")
{
    for (const double rate : {44100.0, 48000.0, 192000.0})
        for (const Band& band : bands)
        {
            INFO(band.low << " to " << band.high << " Hz at " << rate << " Hz");
            const BandFilter filter(band, rate);
            const double middle = std::sqrt(band.low * band.high);
            const double inside = decibelsAt(filter, middle, rate);
            INFO("middle " << inside << " dB, edges " << decibelsAt(filter, band.low, rate) << " and "
                           << decibelsAt(filter, band.high, rate) << " dB");
            CHECK(inside > -1.0);
            CHECK(decibelsAt(filter, band.low, rate) == Approx(halfPower).margin(0.1));
            CHECK(decibelsAt(filter, band.high, rate) == Approx(halfPower).margin(0.1));
            CHECK(decibelsAt(filter, 0.0, rate) < -100.0);
        }
}

TEST_CASE("nothing rings ahead of an attack, and clear() forgets", "[bands]")
{
    for (const Band& band : bands)
    {
        BandFilter filter(band, 48000.0);
        for (int i = 0; i < 100; ++i) REQUIRE(filter(0.0) == 0.0);
        std::vector<double> first, second;
        for (int i = 0; i < 100; ++i) first.push_back(filter(i == 0 ? 1.0 : 0.0));
        CHECK(first.front() != 0.0); // the answer begins with the question
        filter.clear();
        for (int i = 0; i < 100; ++i) second.push_back(filter(i == 0 ? 1.0 : 0.0));
        CHECK(first == second);
    }
}

TEST_CASE("the windows of a band are long enough for its own period and short enough for an attack", "[bands]")
{
    for (const Band& band : bands)
    {
        CHECK(band.after() >= 0.5 / band.low - 1e-12);
        CHECK(band.after() <= 0.010);
        CHECK(band.before() > band.after());
    }
}
