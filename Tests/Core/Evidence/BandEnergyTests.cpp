#include "Core/Evidence/BandEnergy.h"

#include "Support/Catch.h"
#include "Support/Signals.h"

#include <cmath>
#include <numbers>

using namespace tarry;

namespace
{
constexpr double rate = 48000.0;
constexpr int attackAt = 9600; // samples
constexpr double floorEnergy = 1e-12;

std::vector<double> wide(const test::Samples& samples)
{
    return {samples.begin(), samples.end()};
}

/// Noise that grows by so many dB at attackAt.
std::vector<double> growing(double decibels, unsigned seed, double level = 0.01)
{
    auto x = wide(test::noise(19200, seed, level));
    for (std::size_t i = attackAt; i < x.size(); ++i) x[i] *= test::gainOf(decibels);
    return x;
}

std::array<BandEnergy, bandCount> energiesOf(const std::vector<double>& x)
{
    std::array<BandEnergy, bandCount> all;
    BandEnergy::measure({&all[0], &all[1], &all[2], &all[3]}, wide(test::noise(9600, 77, 1.0)), rate); // is overwritten
    BandEnergy::measure({&all[0], &all[1], &all[2], &all[3]}, x, rate);
    return all;
}

BandEnergy energyOf(const std::vector<double>& x, std::size_t band)
{
    return energiesOf(x)[band];
}
} // namespace

TEST_CASE("the largest step is where the energy grows, by about as much as it grows", "[energy]")
{
    for (std::size_t b = 0; b < bandCount; ++b)
    {
        const Band& band = bands[b];
        double mean = 0.0;
        constexpr unsigned seeds = 40;
        for (unsigned seed = 1; seed <= seeds; ++seed)
        {
            const auto x = growing(40.0, seed);
            const BandEnergy energy = energyOf(x, b);
            const int place = energy.largestStep(attackAt - 2400, attackAt + 2400, floorEnergy);
            INFO(band.low << " Hz, seed " << seed << ": " << place - attackAt << " samples from the attack");
            // A causal filter answers late by about a period of its bandwidth; noise itself begins when it likes.
            CHECK(place >= attackAt - 0.5 * band.after() * rate);
            CHECK(place <= attackAt + 2.0 * rate / band.low);
            mean += energy.step(place, floorEnergy) / seeds;
        }
        // 40 dB are 9.2 in natural log. A stretch of noise holds few values, and the largest step was picked.
        INFO(band.low << " Hz, seeds 1 to 40: mean step " << mean << ", expected about " << std::log(1e4));
        CHECK(mean > std::log(1e4) - 1.5);
        CHECK(mean < std::log(1e4) + 3.0);
    }
}

TEST_CASE("gain changes no step, polarity none either, and a shift moves it", "[energy]")
{
    const auto x = growing(30.0, 3);
    std::vector<double> louder = x, inverted = x, shifted(x.size(), 0.0);
    for (double& v : louder) v *= 4.0;
    for (double& v : inverted) v = -v;
    constexpr int shift = 137;
    for (std::size_t i = shift; i < x.size(); ++i) shifted[i] = x[i - shift];
    for (std::size_t b = 0; b < bandCount; ++b)
    {
        const BandEnergy plain = energyOf(x, b), loud = energyOf(louder, b), turned = energyOf(inverted, b),
                         later = energyOf(shifted, b);
        for (int i = attackAt - 500; i < attackAt + 500; i += 50)
        {
            CHECK(loud.step(i, 16.0 * floorEnergy) == Approx(plain.step(i, floorEnergy)).margin(1e-9));
            CHECK(turned.step(i, floorEnergy) == plain.step(i, floorEnergy));
            // But for the filter's memory of how the track began, 9000 samples ago.
            CHECK(later.step(i + shift, floorEnergy) == Approx(plain.step(i, floorEnergy)).margin(1e-5));
        }
    }
}

TEST_CASE("silence and DC step nowhere; the ends of the track are safe", "[energy]")
{
    for (std::size_t b = 0; b < bandCount; ++b)
        for (const double level : {0.0, 0.5})
        {
            const std::vector<double> x(4800, level);
            const BandEnergy energy = energyOf(x, b);
            for (const int i : {-100000, -1, 0, 1, 2400, 4799, 4800, 100000})
            {
                CHECK(energy.step(i, floorEnergy) == Approx(0.0).margin(1e-9));
                CHECK(energy.level(i) == Approx(0.0).margin(1e-15));
            }
            CHECK(energy.loud() == Approx(0.0).margin(1e-15));
        }
}

TEST_CASE("a level is the mean square of the band: a tone inside it has half its amplitude squared", "[energy]")
{
    for (std::size_t b = 0; b < bandCount; ++b)
    {
        const Band& band = bands[b];
        const double hertz = 125.0 * std::round(std::sqrt(band.low * band.high) / 125.0); // whole periods in 8 ms
        const auto x = wide(test::sine(19200, hertz, rate, 0.5));
        const BandEnergy energy = energyOf(x, b);
        INFO(hertz << " Hz");
        // Both edges take their share: Butterworth, second order, frequencies bent by the bilinear transform.
        const auto bent = [](double f) { return std::tan(std::numbers::pi * f / rate); };
        const double edges =
            (1.0 + std::pow(bent(band.low) / bent(hertz), 4.0)) * (1.0 + std::pow(bent(hertz) / bent(band.high), 4.0));
        CHECK(energy.level(attackAt) == Approx(0.125 / edges).epsilon(0.02));
        CHECK(energy.loud() <= 0.5 * 0.5);
        CHECK(energy.loud() >= 0.9 * 0.1);
    }
}

TEST_CASE("all bands together give what each filter gives alone, and steps in a row what each step is", "[energy]")
{
    const auto x = growing(30.0, 5);
    const auto energies = energiesOf(x);
    for (std::size_t b = 0; b < bandCount; ++b)
    {
        BandFilter filter(bands[b], rate);
        std::vector<double> squares;
        for (const double v : x)
        {
            const double y = filter(v - x[0]);
            squares.push_back(y * y);
        }
        const BandEnergy& energy = energies[b];
        double total = 0.0;
        for (int i = attackAt; i < attackAt + 96; ++i) total += squares[static_cast<std::size_t>(i)];
        CHECK(energy.moment(attackAt, 96) == Approx(total / 96.0).epsilon(1e-9));
        const std::vector<float> steps = energy.steps(attackAt - 400, 800, 4, floorEnergy);
        REQUIRE(steps.size() == 200);
        for (int i = 0; i < 200; ++i)
            CHECK(static_cast<double>(steps[static_cast<std::size_t>(i)]) ==
                  Approx(std::max(0.0, energy.step(attackAt - 400 + 4 * i, floorEnergy))).margin(2e-6));
    }
}
