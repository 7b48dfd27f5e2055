#include "Core/Capture/OnsetDetector.h"

#include "Support/Catch.h"
#include "Support/Signals.h"

#include <array>
#include <cmath>
#include <random>
#include <string>

using namespace tarry;
using tarry::test::evenTimes;
using tarry::test::Samples;
using tarry::test::Strokes;

namespace
{
const std::vector<double> rates{44100.0, 48000.0, 88200.0, 96000.0, 176400.0, 192000.0};

struct Found
{
    double time;    ///< s, of the attack
    double decided; ///< s, when it was decided on
};

std::vector<Found> onsetsIn(const Samples& samples, double rate, OnsetDetector& detector)
{
    std::vector<Found> found;
    for (std::size_t i = 0; i < samples.size(); ++i)
        if (const float* sample = &samples[i]; detector.push(&sample, 1))
            found.push_back({static_cast<double>(detector.onset()) / rate, static_cast<double>(i + 1) / rate});
    return found;
}

std::vector<Found> onsetsIn(const Samples& samples, double rate)
{
    OnsetDetector detector;
    detector.prepare(rate, 1);
    return onsetsIn(samples, rate, detector);
}

std::string listOf(const std::vector<Found>& found)
{
    std::string text = std::to_string(found.size()) + " found:";
    for (const Found& f : found) text.append(" ").append(std::to_string(f.time));
    return text;
}

std::size_t seconds(double s, double rate)
{
    return static_cast<std::size_t>(s * rate);
}
} // namespace

TEST_CASE("what holds no attack has none after its first moments", "[onset]")
{
    constexpr double moments = 0.1; // s: a stream that begins in the middle of a sound begins with a step
    for (const double rate : {44100.0, 48000.0, 96000.0})
    {
        const std::size_t frames = seconds(20.0, rate);
        const auto nothingLater = [&](const char* what, const Samples& samples)
        {
            const auto found = onsetsIn(samples, rate);
            INFO(what << " at " << rate << " Hz: " << listOf(found));
            for (const Found& f : found) CHECK(f.time < moments);
        };
        nothingLater("silence", Samples(frames, 0.0F));
        nothingLater("DC", Samples(frames, 0.25F));
        nothingLater("hum of 50 Hz", test::sine(frames, 50.0, rate, 0.1));
        Samples harmonics(frames, 0.0F);
        for (const double hertz : {50.0, 100.0, 150.0, 250.0, 350.0})
            test::addTo(harmonics, test::sine(frames, hertz, rate, 2.0 / hertz, hertz));
        nothingLater("hum with its harmonics", harmonics);
        for (unsigned seed = 1; seed <= 3; ++seed)
            nothingLater("noise at -60 dBFS, seeds 1 to 3", test::noise(frames, seed, test::gainOf(-60.0)));
        nothingLater("loud noise, seed 4", test::noise(frames, 4, 0.2));
    }
}

TEST_CASE("every stroke is found within 10 ms, once, and soon enough for the capture", "[onset]")
{
    for (const double rate : rates)
        for (unsigned seed = 1; seed <= 3; ++seed)
        {
            Strokes strokes;
            strokes.times = {0.300, 0.900, 1.1234, 1.300, 1.385, 1.470, 2.0};
            strokes.seed = seed;
            Samples samples = test::noise(seconds(2.5, rate), seed, test::gainOf(-75.0));
            test::addStrokes(samples, rate, strokes);
            OnsetDetector detector;
            detector.prepare(rate, 1);
            const auto found = onsetsIn(samples, rate, detector);
            INFO(rate << " Hz, seed " << seed << ": " << listOf(found));
            for (const double time : strokes.times)
            {
                double nearest = 1.0;
                for (const Found& f : found) nearest = std::min(nearest, std::abs(f.time - time));
                INFO("stroke at " << time << " s, nearest " << nearest * 1e3 << " ms away, limit 10 ms");
                CHECK(nearest <= 0.010);
            }
            CHECK(found.size() == strokes.times.size());
            for (const Found& f : found) CHECK((f.decided - f.time) * rate <= detector.delay());
        }
}

TEST_CASE("never two within 40 ms, however dense the strokes", "[onset]")
{
    for (const double apart : {0.006, 0.017, 0.033, 0.047})
        for (unsigned seed = 1; seed <= 3; ++seed)
        {
            const double rate = 48000.0;
            Strokes strokes;
            strokes.times = evenTimes(static_cast<int>(2.0 / apart), 0.3, apart);
            strokes.seed = seed;
            Samples samples(seconds(2.6, rate), 0.0F);
            test::addStrokes(samples, rate, strokes);
            const auto found = onsetsIn(samples, rate);
            INFO(apart * 1e3 << " ms apart, seed " << seed << ": " << listOf(found));
            CHECK_FALSE(found.empty());
            for (std::size_t i = 1; i < found.size(); ++i) CHECK(found[i].time - found[i - 1].time >= 0.0399);
        }
}

TEST_CASE("gain changes nothing over 40 dB, and a hit on either side counts", "[onset]")
{
    const double rate = 48000.0;
    Strokes strokes;
    strokes.times = evenTimes(6, 0.4, 0.5);
    Samples samples = test::noise(seconds(3.5, rate), 5, test::gainOf(-80.0));
    test::addStrokes(samples, rate, strokes);
    const auto reference = onsetsIn(samples, rate);
    REQUIRE(reference.size() == strokes.times.size());
    for (const double decibels : {-20.0, -10.0, 20.0})
    {
        Samples scaled = samples;
        test::scale(scaled, test::gainOf(decibels));
        const auto found = onsetsIn(scaled, rate);
        INFO(decibels << " dB: " << listOf(found));
        REQUIRE(found.size() == reference.size());
        for (std::size_t i = 0; i < found.size(); ++i) CHECK(found[i].time == reference[i].time);
    }
    for (const int side : {0, 1})
    {
        OnsetDetector detector;
        detector.prepare(rate, 2);
        std::size_t count = 0;
        for (const float x : samples)
        {
            const float left = side == 0 ? x : 0.0F, right = side == 1 ? x : 0.0F;
            const float* const frame[2] = {&left, &right};
            if (detector.push(frame, 1)) CHECK(static_cast<double>(detector.onset()) / rate == reference[count++].time);
        }
        CHECK(count == reference.size());
    }
}

TEST_CASE("in any pieces the same, and the bands side by side as each by itself, to the last bit", "[onset]")
{
    std::mt19937 engine(5);
    std::uniform_real_distribution<float> level(-0.5F, 0.5F);
    for (const double rate : {44100.0, 96000.0})
        for (const int channels : {1, 2})
        {
            std::array<Samples, 2> noise;
            for (auto& channel : noise)
            {
                channel.resize(5000);
                for (float& x : channel) x = level(engine);
            }
            FilterBank bank;
            bank.prepare(rate, channels);
            std::array<double, bandCount> expected{};
            for (std::size_t b = 0; b < bandCount; ++b)
            {
                std::array<BandFilter, 2> filter{BandFilter(bands[b], rate), BandFilter(bands[b], rate)};
                for (std::size_t i = 0; i < noise[0].size(); ++i)
                    for (std::size_t c = 0; c < static_cast<std::size_t>(channels); ++c)
                    {
                        const double y = filter[c](static_cast<double>(noise[c][i]));
                        expected[b] += y * y;
                    }
            }
            std::uniform_int_distribution<int> size(1, 700);
            for (int at = 0; at < 5000;)
            {
                const int n = std::min(size(engine), 5000 - at);
                const float* const pieces[2] = {noise[0].data() + at, noise[1].data() + at};
                bank.push(pieces, n);
                at += n;
            }
            INFO(channels << " channels at " << rate << " Hz");
            CHECK(bank.takeSums() == expected);
        }
}

TEST_CASE("what a filter remembers of a sound long gone is forgotten before it makes the processor slow", "[onset]")
{
    FilterBank bank;
    bank.prepare(48000.0, 1);
    const Samples click{1.0F}, silence(48);
    const float* piece = click.data();
    bank.push(&piece, 1);
    (void)bank.takeSums();
    piece = silence.data();
    bool normal = true;
    for (int hop = 0; hop < 4000; ++hop)
    {
        bank.push(&piece, 48);
        for (const double sum : bank.takeSums()) normal = normal && (sum == 0.0 || sum > 1e-250); // slow below 2e-308
    }
    CHECK(normal);
}

TEST_CASE("reset begins anew, to the last bit", "[onset]")
{
    const double rate = 44100.0;
    Strokes strokes;
    strokes.times = evenTimes(4, 0.4, 0.3);
    Samples samples = test::noise(seconds(2.0, rate), 6, test::gainOf(-70.0));
    test::addStrokes(samples, rate, strokes);
    OnsetDetector detector;
    detector.prepare(rate, 1);
    const auto first = onsetsIn(samples, rate, detector);
    detector.reset();
    const auto second = onsetsIn(samples, rate, detector);
    CHECK(listOf(first) == listOf(second));
    CHECK(first.size() == strokes.times.size());
}
