#include "Loudness/Loudness.h"

#include "Support/Catch.h"
#include "Support/Process.h"
#include "Support/Python.h"

#include <cmath>
#include <fstream>
#include <numbers>
#include <random>
#include <sstream>
#include <stdexcept>

using namespace tarry;

namespace
{
std::vector<float> sine(double frequency, double peak, double rate, double seconds)
{
    std::vector<float> wave(static_cast<std::size_t>(std::lround(rate * seconds)));
    for (std::size_t k = 0; k < wave.size(); ++k)
        wave[k] =
            static_cast<float>(peak * std::sin(2.0 * std::numbers::pi * frequency * static_cast<double>(k) / rate));
    return wave;
}

/// Hits of noise and ring, with pauses between them: loudness that the gates have to do with.
std::vector<float> hits(std::uint64_t seed, double rate, double seconds)
{
    std::mt19937_64 random(seed);
    std::normal_distribution<double> noise;
    std::vector<float> wave(static_cast<std::size_t>(std::lround(rate * seconds)));
    for (std::size_t k = 0; k < wave.size(); ++k)
    {
        const double t = std::fmod(static_cast<double>(k) / rate, 0.7);
        wave[k] = static_cast<float>(0.3 * std::exp(-t / 0.03) * noise(random) +
                                     0.3 * std::exp(-t / 0.1) * std::sin(2.0 * std::numbers::pi * 180.0 * t));
    }
    return wave;
}
} // namespace

TEST_CASE("loudness: a sine of 997 Hz at full scale in one channel is -3.01 LKFS (ITU-R BS.1770)")
{
    const double rate = GENERATE(44100.0, 48000.0, 96000.0, 192000.0);
    const auto wave = sine(997.0, 1.0, rate, 5.0);
    const auto one = integratedLoudness({wave}, rate), two = integratedLoudness({wave, wave}, rate);
    REQUIRE(one.has_value());
    REQUIRE(two.has_value());
    INFO(rate << " Hz: " << *one << " LUFS in one channel, limit 0.05 of -3.01; " << *two << " in two, of 0.00");
    CHECK(std::abs(*one + 3.01) < 0.05);
    CHECK(std::abs(*two) < 0.05); // twice the power: 3.01 more
}

TEST_CASE("loudness: the gates leave out silence and what is far softer (EBU Tech 3341, case 3)")
{
    // 1 kHz in both channels: 10 s at -36 dBFS, 60 s at -23, 10 s at -36: the programme is -23.0 LUFS, +-0.1.
    std::vector<float> wave;
    for (const auto& [level, seconds] : {std::pair{-36.0, 10.0}, {-23.0, 60.0}, {-36.0, 10.0}})
    {
        const auto part = sine(1000.0, std::pow(10.0, level / 20.0), 48000.0, seconds);
        wave.insert(wave.end(), part.begin(), part.end());
    }
    const auto loudness = integratedLoudness({wave, wave}, 48000.0);
    REQUIRE(loudness.has_value());
    INFO(*loudness << " LUFS, limit 0.1 of -23");
    CHECK(std::abs(*loudness + 23.0) <= 0.1);
}

TEST_CASE("loudness: as a filter of the standard's own coefficients finds it in SciPy", "[outside]")
{
    TARRY_NEED_PYTHON(python, "scipy");
    const auto seed = std::random_device{}();
    INFO("seed " << seed);
    const auto wave = hits(seed, 48000.0, 9.5);
    const tarry::test::TemporaryFolder folder;
    std::ofstream(folder / "wave.f32", std::ios::binary)
        .write(reinterpret_cast<const char*>(wave.data()), // NOLINT: bytes are what a file holds
               static_cast<std::streamsize>(wave.size() * sizeof(float)));
    // Coefficients at 48 kHz: ITU-R BS.1770, tables 1 and 2; blocks of 400 ms, 75 % overlap; gates at -70 and -10.
    const auto answer = tarry::test::runPython(python, R"(
import sys
import numpy as np
from scipy.signal import lfilter
x = np.fromfile(sys.argv[1], dtype=np.float32).astype(float)
x = lfilter([1.53512485958697, -2.69169618940638, 1.19839281085285], [1, -1.69065929318241, 0.73248077421585], x)
x = lfilter([1, -2, 1], [1, -1.99004745483398, 0.99007225036621], x)
z = np.array([np.mean(x[i:i + 19200] ** 2) for i in range(0, len(x) - 19200 + 1, 4800)])
loud = lambda e: -0.691 + 10 * np.log10(e)
z = z[loud(z) > -70]
print(repr(float(loud(np.mean(z[loud(z) > loud(np.mean(z)) - 10])))))
)",
                                               {(folder / "wave.f32").string()});
    INFO(answer.errors);
    REQUIRE(answer.status == 0);
    const double expected = std::stod(answer.output);
    const auto loudness = integratedLoudness({wave}, 48000.0);
    REQUIRE(loudness.has_value());
    INFO(*loudness << " LUFS, SciPy " << expected << ", limit 0.02");
    CHECK(std::abs(*loudness - expected) < 0.02);
}

TEST_CASE("loudness: silence and scraps have none; shapes that cannot be measured are refused")
{
    CHECK_FALSE(integratedLoudness({std::vector<float>(96000)}, 48000.0).has_value());
    CHECK_FALSE(integratedLoudness({sine(1000.0, 1.0, 48000.0, 0.3)}, 48000.0).has_value());
    CHECK_FALSE(integratedLoudness({sine(1000.0, 1.0e-5, 48000.0, 2.0)}, 48000.0).has_value());
    CHECK_FALSE(integratedLoudness({std::vector<float>{}}, 48000.0).has_value());
    CHECK_THROWS_AS((void)integratedLoudness({}, 48000.0), std::invalid_argument);
    CHECK_THROWS_AS((void)integratedLoudness({{0.0F}, {0.0F, 0.0F}}, 48000.0), std::invalid_argument);
    CHECK_THROWS_AS((void)integratedLoudness({{0.0F}, {0.0F}, {0.0F}}, 48000.0), std::invalid_argument);
    CHECK_THROWS_AS((void)integratedLoudness({{0.0F}}, 0.0), std::invalid_argument);
}

TEST_CASE("matching: the louder one is turned down to the softer, never the other way")
{
    const auto seed = std::random_device{}();
    INFO("seed " << seed);
    std::mt19937_64 random(seed);
    std::uniform_real_distribution<double> level(-50.0, 0.0);
    for (int i = 0; i < 200; ++i)
    {
        const double first = level(random), second = level(random);
        const auto match = matchLoudness(first, second);
        CHECK(std::max(match.first, match.second) == 1.0);
        CHECK(match.difference == first - second);
        CHECK(first + 20.0 * std::log10(match.first) == Approx(second + 20.0 * std::log10(match.second)));
    }
    CHECK(matchLoudness(-20.0, -20.0).first == 1.0);
    CHECK(matchLoudness(-20.0, -20.0).second == 1.0);
}
