// Recorded drums that every machine can have: GMRockKit by Glen MacArthur and Sebastian Moors, in Debian's package
// hydrogen-data (GPL). Four strengths of each drum, played through responses that are made up here: a direct sound at
// a known time, a few reflections, a decaying tail. The lag is known to the sample.
#include "Core/Heard.h"
#include "Support/Catch.h"
#include "Support/Skip.h"

#include <sndfile.h>

#include <cmath>
#include <filesystem>
#include <iostream>
#include <memory>
#include <random>

using namespace tarry;
using namespace tarry::test;

namespace
{
constexpr double rate = 44100.0; // Hz, of the recordings
const std::filesystem::path kit = "/usr/share/hydrogen/data/drumkits/GMRockKit";

std::vector<Samples> strengths(const std::string& drum)
{
    std::vector<Samples> hits;
    for (const char* strength : {"Soft", "Med", "Hard", "Hardest"})
    {
        const auto file = kit / (drum + "-" + strength + ".wav");
        SF_INFO info{};
        const std::unique_ptr<SNDFILE, int (*)(SNDFILE*)> handle(sf_open(file.c_str(), SFM_READ, &info), sf_close);
        INFO(file.string());
        REQUIRE(handle);
        REQUIRE(info.samplerate == static_cast<int>(rate));
        const auto channels = static_cast<std::size_t>(info.channels), frames = static_cast<std::size_t>(info.frames);
        Samples interleaved(channels * frames);
        REQUIRE(sf_readf_float(handle.get(), interleaved.data(), info.frames) == info.frames);
        Samples& mono = hits.emplace_back(std::min<std::size_t>(frames, 30000));
        for (std::size_t i = 0; i < channels * mono.size(); ++i) mono[i / channels] += interleaved[i];
        for (std::size_t i = 0; i < 2000 && i < mono.size(); ++i)
            mono[mono.size() - 1 - i] *= static_cast<float>(i) / 2000.0F;
    }
    return hits;
}

/// -1 up to 1; the engine's own bits: the same with every library.
double drawn(std::mt19937& engine)
{
    return static_cast<double>(engine()) / 2147483648.0 - 1.0;
}

struct Tap
{
    std::size_t at;
    double gain;
};

/// What a room microphone `lag` frames away answers: sparse at first, then ever denser, -60 dB after 1.2 s; the direct
/// sound is 2 to 4 dB above the strongest reflection. Sparse taps in place of a whole convolution.
std::vector<Tap> roomTaps(std::size_t lag, std::mt19937& engine)
{
    std::vector<Tap> taps{{lag, 1.0}};
    double t = 0.0015 + 0.001 * drawn(engine); // s
    while (t < 0.8)
    {
        const double gain = 0.65 * std::pow(10.0, -3.0 * t / 1.2) / (1.0 + 8.0 * t);
        taps.push_back({lag + static_cast<std::size_t>(t * rate), gain * drawn(engine)});
        t += 0.0025 * (1.0 + 0.7 * drawn(engine)) / (1.0 + 4.0 * t);
    }
    return taps;
}

void addThrough(Samples& to, const Samples& hit, std::size_t at, double gain, const std::vector<Tap>& taps)
{
    for (const Tap& tap : taps)
    {
        const auto from = at + tap.at;
        const auto g = static_cast<float>(gain * tap.gain);
        for (std::size_t i = 0; i < hit.size() && from + i < to.size(); ++i) to[from + i] += g * hit[i];
    }
}

struct Case
{
    const char* drum;
    std::size_t lag; // frames
    bool inverted;
};
} // namespace

TEST_CASE("recorded drums of Debian's package hydrogen-data, in rooms made up here: right to 0.5 ms", "[real][outside]")
{
    if (!std::filesystem::exists(kit)) TARRY_SKIP("no recorded drums at " + kit.string() + ": Debian's hydrogen-data");
    const std::vector<Case> cases{{"Kick", 1102, false},    {"Snare", 441, true},    {"SnareRimshot", 1543, false},
                                  {"SideStick", 882, true}, {"Tom1", 2205, false},   {"Tom2", 661, true},
                                  {"TomFloor", 1323, true}, {"Cowbell", 1764, false}};
    int within01 = 0;
    for (const auto& [drum, lag, inverted] : cases)
    {
        const auto hits = strengths(drum);
        std::mt19937 engine(static_cast<unsigned>(lag));
        const auto taps = roomTaps(lag, engine);
        Samples spot(static_cast<std::size_t>(8.0 * rate)), room = spot;
        double time = 0.4;
        for (std::size_t i = 0; i < 8; ++i)
        {
            const auto frame = static_cast<std::size_t>(time * rate);
            const double gain = std::pow(10.0, 0.15 * drawn(engine));
            addThrough(spot, hits[i % hits.size()], frame, inverted ? -gain : gain, {{0, 1.0}});
            addThrough(room, hits[i % hits.size()], frame, 0.2 * gain, taps);
            time += 0.75 + 0.1 * drawn(engine);
        }
        addTo(spot, noise(spot.size(), 1, 1e-4));
        addTo(room, noise(room.size(), 2, 2e-4));

        const Report report = heard(tarry::test::at(rate), {spot}, {room});
        const double truth = static_cast<double>(lag) / rate;
        INFO(drum << ", true lag " << 1e3 * truth << " ms, found " << 1e3 * report.lag.value_or(-1.0)
                  << " ms, confidence " << report.confidence << ": " << report.reasons.front());
        REQUIRE(report.lag);
        CHECK(std::abs(*report.lag - truth) <= 0.0005);
        REQUIRE(report.polarity);
        CHECK(*report.polarity == (inverted ? Polarity::inverted : Polarity::normal));
        within01 += std::abs(*report.lag - truth) <= 0.0001 ? 1 : 0;
    }
    std::cout << "recorded drums: " << within01 << " of " << cases.size() << " within 0.1 ms" << std::endl;
    CHECK(within01 >= 7);
}
