#include "Files/RateConverter.h"

#include "Files/Fixtures.h"
#include "Support/Catch.h"
#include "Support/Process.h"

#include <cmath>
#include <complex>
#include <numbers>

using namespace tarry;
using namespace tarry::test;

namespace
{
/// A tone burst with a smooth envelope whose middle lies at `centre` seconds: known at every instant, at any rate.
double burst(double seconds, double centre, double hertz)
{
    const double x = (seconds - centre) / 0.02;
    return 0.5 * std::exp(-x * x) * std::cos(2.0 * std::numbers::pi * hertz * (seconds - centre));
}

std::vector<float> convert(const std::filesystem::path& file, double rate, int block)
{
    AudioReader reader(file, 1);
    RateConverter converter(reader, rate);
    std::vector<float> all;
    std::vector<float> samples(static_cast<std::size_t>(block));
    for (int got = block; got == block;)
    {
        float* channel = samples.data();
        got = converter.read(&channel, block);
        all.insert(all.end(), samples.begin(), samples.begin() + got);
    }
    return all;
}
} // namespace

TEST_CASE("converted to another rate a sound stays where it was, to within a microsecond")
{
    const TemporaryFolder folder;
    for (const int from : {44100, 48000, 88200, 96000, 176400, 192000})
        for (const int to : {44100, 48000, 96000, 192000})
            for (const double hertz : {200.0, 3000.0, 12000.0})
            {
                const double centre = 0.20031084; // between samples at every rate
                std::vector<double> samples(static_cast<std::size_t>(from) / 2);
                for (std::size_t i = 0; i < samples.size(); ++i)
                    samples[i] = burst(static_cast<double>(i) / from, centre, hertz);
                makeFile(folder / "in.wav", SF_FORMAT_WAV | SF_FORMAT_FLOAT, 1, from, samples);
                const auto converted = convert(folder / "in.wav", to, 1000);

                // Phase at the tone's frequency against that of the same burst made at the other rate.
                std::complex<double> heard = 0.0;
                std::complex<double> made = 0.0;
                double worst = 0.0;
                for (std::size_t i = 0; i < converted.size(); ++i)
                {
                    const double seconds = static_cast<double>(i) / to;
                    const auto turn = std::polar(1.0, -2.0 * std::numbers::pi * hertz * seconds);
                    heard += static_cast<double>(converted[i]) * turn;
                    made += burst(seconds, centre, hertz) * turn;
                    worst =
                        std::max(worst, std::abs(static_cast<double>(converted[i]) - burst(seconds, centre, hertz)));
                }
                const double late = -std::arg(heard / made) / (2.0 * std::numbers::pi * hertz);
                INFO(from << " to " << to << " Hz, tone of " << hertz << " Hz: late by " << late * 1e6
                          << " us (limit 1), largest error " << worst << " (limit 1e-3)");
                CHECK(std::abs(late) < 1e-6);
                CHECK(worst < 1e-3);
                CHECK(std::abs(static_cast<double>(converted.size()) - 0.5 * to) <= 2.0);
            }
}

TEST_CASE("conversion does not depend on the blocks it is read in; the same rate passes untouched")
{
    const TemporaryFolder folder;
    std::vector<double> samples(30000);
    std::mt19937 engine(3);
    for (double& sample : samples) sample = std::uniform_real_distribution<float>(-0.5F, 0.5F)(engine);
    makeFile(folder / "in.wav", SF_FORMAT_WAV | SF_FORMAT_FLOAT, 1, 44100, samples);
    const auto reference = convert(folder / "in.wav", 48000, 4096);
    for (const int block : {64, 441, 1000}) CHECK(convert(folder / "in.wav", 48000, block) == reference);

    const auto same = convert(folder / "in.wav", 44100, 777);
    CHECK(std::equal(same.begin(), same.end(), samples.begin(), samples.end(),
                     [](float a, double b) { return static_cast<double>(a) == b; }));
}
