#include "Core/Delay/SincKernel.h"

#include "Core/Delay/Delay.h"
#include "Support/Catch.h"

#include <complex>
#include <numbers>
#include <numeric>
#include <vector>

using namespace tarry;

namespace
{
std::complex<double> responseAt(const std::vector<double>& taps, double hertz, double sampleRate)
{
    std::complex<double> sum = 0.0;
    for (std::size_t k = 0; k < taps.size(); ++k)
        sum += taps[k] * std::polar(1.0, -2.0 * std::numbers::pi * hertz / sampleRate * static_cast<double>(k));
    return sum;
}

double decibels(double gain)
{
    return 20.0 * std::log10(gain);
}
} // namespace

TEST_CASE("Kaiser's shape parameter for 60, 80, 100 and 120 dB")
{
    // Kaiser's design formula, from memory; the values computed from it by hand.
    CHECK(kaiserBeta(60.0) == Approx(5.653).margin(0.0005));
    CHECK(kaiserBeta(80.0) == Approx(7.857).margin(0.0005));
    CHECK(kaiserBeta(100.0) == Approx(10.061).margin(0.0005));
    CHECK(kaiserBeta(120.0) == Approx(12.265).margin(0.0005));
}

TEST_CASE("the Bessel function agrees with the standard library's")
{
#if defined(__cpp_lib_math_special_functions)
    for (double x = 0.0; x <= 15.0; x += 0.5)
    {
        INFO("x = " << x);
        CHECK(besselI0(x) == Approx(std::cyl_bessel_i(0.0, x)).epsilon(1e-13));
    }
#else
    CHECK(besselI0(1.0) == Approx(1.2660658777520084).epsilon(1e-13)); // Abramowitz & Stegun, table 9.8, from memory
#endif
}

TEST_CASE("64 taps, beta 10.06, delay 31.5: error of the complex response at or below -100 dB at 1 to 21 kHz")
{
    // Laakso et al. 1996 for the method, the figure computed. On the whole kilohertz; between them the ripple of this
    // window reaches -94.6 dB, just below 21 kHz.
    std::vector<double> taps(64);
    fillSincKernel(taps, 31.5, 10.06);
    double worstOnGrid = 0.0;
    double worst = 0.0;
    for (int hertz = 1000; hertz <= 21000; hertz += 10)
    {
        const auto exact = std::polar(1.0, -2.0 * std::numbers::pi * hertz / 48000.0 * 31.5);
        const double error = std::abs(responseAt(taps, hertz, 48000.0) - exact);
        worst = std::max(worst, error);
        if (hertz % 1000 == 0) worstOnGrid = std::max(worstOnGrid, error);
    }
    INFO("measured " << decibels(worstOnGrid) << " dB at whole kilohertz, " << decibels(worst) << " dB anywhere");
    CHECK(decibels(worstOnGrid) <= -100.0);
    CHECK(decibels(worst) <= -94.5);
}

TEST_CASE("the kernel in use, every tenth of a sample: flat, exact in delay, -100 dB to 20 kHz at every rate")
{
    for (const double sampleRate : {44100.0, 48000.0, 88200.0, 96000.0, 176400.0, 192000.0})
    {
        double worstGain = 0.0;
        double worstDelay = 0.0;
        double worstError = 0.0;
        for (int tenth = 0; tenth <= 10; ++tenth)
        {
            const double delay = Delay::halfLength - 1 + tenth / 10.0;
            std::vector<double> taps(Delay::length);
            fillSincKernel(taps, delay, Delay::beta);
            CHECK(std::accumulate(taps.begin(), taps.end(), 0.0) == Approx(1.0).epsilon(1e-14));
            for (double hertz = 20.0; hertz <= 20000.0; hertz += 20.0)
            {
                const double radians = 2.0 * std::numbers::pi * hertz / sampleRate;
                const auto ratio = responseAt(taps, hertz, sampleRate) * std::polar(1.0, radians * delay);
                worstGain = std::max(worstGain, std::abs(decibels(std::abs(ratio))));
                worstDelay = std::max(worstDelay, std::abs(std::arg(ratio)) / radians);
                worstError = std::max(worstError, std::abs(ratio - 1.0));
            }
        }
        INFO(sampleRate << " Hz: gain " << worstGain << " dB (limit 0.01), delay " << worstDelay
                        << " samples (limit 0.001), error " << decibels(worstError) << " dB (limit -100)");
        CHECK(worstGain <= 0.01);
        CHECK(worstDelay <= 0.001);
        CHECK(decibels(worstError) <= -100.0);
    }
}

TEST_CASE("it is far better than Lagrange's cubic, whose known droop this test's own yardstick reproduces")
{
    // Laakso et al. 1996: N = 3, D = 1.5 is [-1 9 9 -1] / 16; magnitudes at 48 kHz computed from it. This checks the
    // ruler that the tests above measure with.
    const std::vector<double> lagrange{-1.0 / 16.0, 9.0 / 16.0, 9.0 / 16.0, -1.0 / 16.0};
    std::vector<double> ours(Delay::length);
    fillSincKernel(ours, Delay::halfLength - 0.5, Delay::beta);
    const std::vector<std::pair<double, double>> droops{{10000.0, -0.534}, {15000.0, -2.526}, {20000.0, -8.414}};
    for (const auto& [hertz, droop] : droops)
    {
        INFO(hertz << " Hz");
        CHECK(decibels(std::abs(responseAt(lagrange, hertz, 48000.0))) == Approx(droop).margin(0.0006));
        CHECK(decibels(std::abs(responseAt(ours, hertz, 48000.0))) == Approx(0.0).margin(0.001));
    }
}
