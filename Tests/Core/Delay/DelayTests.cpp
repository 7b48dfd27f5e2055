#include "Core/Delay/Delay.h"

#include "Support/Catch.h"
#include "Support/Python.h"

#include <algorithm>
#include <cmath>
#include <cstdint>
#include <fstream>
#include <numbers>
#include <random>
#include <vector>

using namespace tarry;

namespace
{
using Samples = std::vector<float>;

Samples noise(std::size_t frames, unsigned seed)
{
    std::mt19937 engine(seed);
    std::uniform_real_distribution<float> level(-0.5F, 0.5F);
    Samples samples(frames);
    for (float& sample : samples) sample = level(engine);
    return samples;
}

Samples sine(std::size_t frames, double hertz, double sampleRate)
{
    Samples samples(frames);
    for (std::size_t i = 0; i < frames; ++i)
        samples[i] =
            static_cast<float>(0.5 * std::sin(2.0 * std::numbers::pi * hertz / sampleRate * static_cast<double>(i)));
    return samples;
}

void run(Delay& delay, Samples& samples, std::size_t from, std::size_t to, std::size_t block)
{
    for (std::size_t start = from; start < to; start += block)
    {
        float* channel = samples.data() + start;
        delay.process(&channel, static_cast<int>(std::min(block, to - start)));
    }
}

/// Through a delay that stands still.
Samples delayed(Samples samples, double sampleRate, const Alignment& alignment, bool whole = false)
{
    Delay delay;
    delay.prepare(sampleRate, 1, 0.2, 0.0);
    delay.setAlignment(alignment, whole);
    delay.jump();
    run(delay, samples, 0, samples.size(), 512);
    return samples;
}

/// Largest second difference: a click is a bend that the signal itself does not have.
double sharpestBend(const Samples& samples, std::size_t from, std::size_t to)
{
    double sharpest = 0.0;
    for (std::size_t i = from + 2; i < to; ++i)
        sharpest =
            std::max(sharpest, std::abs(static_cast<double>(samples[i]) - 2.0 * static_cast<double>(samples[i - 1]) +
                                        static_cast<double>(samples[i - 2])));
    return sharpest;
}

constexpr double at48 = 48000.0;
} // namespace

TEST_CASE("a whole-sample lag passes bit for bit, either polarity, at every rate")
{
    for (const double rate : {44100.0, 48000.0, 88200.0, 96000.0, 176400.0, 192000.0})
        for (const int samples : {0, 1, 17, 39, 40, 41, 1492, 8191})
        {
            // As a lag is kept: in whole nanoseconds.
            const double lag = std::round(samples / rate * 1e9) / 1e9;
            INFO(samples << " samples at " << rate << " Hz");
            const Samples input = noise(20000, 7);
            const Samples normal = delayed(input, rate, {lag, Polarity::normal});
            const Samples inverted = delayed(input, rate, {lag, Polarity::inverted});
            CHECK(std::equal(normal.begin() + samples, normal.end(), input.begin()));
            CHECK(std::all_of(normal.begin(), normal.begin() + samples, [](float x) { return x == 0.0F; }));
            CHECK(std::equal(inverted.begin() + samples, inverted.end(), input.begin(),
                             [](float out, float in) { return out == -in; }));
        }
}

TEST_CASE("wholeSamples rounds the lag and says so; short lags fall to whole samples and say so")
{
    Delay delay;
    delay.prepare(at48, 1, 0.2, 0.0);
    CHECK(delay.setAlignment({1492.3 / at48, Polarity::normal}, true) == 1492.0);
    CHECK(delay.setAlignment({1492.3 / at48, Polarity::normal}, false) == Approx(1492.3).margin(1e-9));
    CHECK(delay.setAlignment({39.7 / at48, Polarity::normal}, false) == 40.0);
    CHECK(delay.setAlignment({0.4 / at48, Polarity::normal}, false) == 0.0);
    CHECK(delay.setAlignment({40.25 / at48, Polarity::normal}, false) == Approx(40.25).margin(1e-9));
    CHECK(delay.setAlignment({-1.0, Polarity::normal}, false) == 0.0);
    CHECK(delay.setAlignment({1.0, Polarity::normal}, false) == 9600.0);
    CHECK(delay.setAlignment({std::nan(""), Polarity::normal}, false) == 0.0);
}

TEST_CASE("latency holds everything back, lets the spot move earlier and leaves the fraction alone")
{
    Delay delay;
    delay.prepare(at48, 1, 0.2, 0.020);
    REQUIRE(delay.latencySamples() == 960);
    CHECK(delay.setAlignment({-3.25 / at48, Polarity::normal}, false) == Approx(-3.25).margin(1e-9));
    CHECK(delay.setAlignment({-0.5, Polarity::normal}, false) == -960.0);

    const Alignment alignment{1492.03 / at48, Polarity::inverted};
    Samples held = noise(20000, 11);
    const Samples direct = delayed(held, at48, alignment);
    delay.setAlignment(alignment, false);
    delay.jump();
    run(delay, held, 0, held.size(), 64);
    CHECK(std::equal(held.begin() + 960, held.end(), direct.begin()));
}

TEST_CASE("the output is the same for every size of block, fades included")
{
    const Samples input = noise(40000, 23);
    const std::vector<Alignment> wishes{{0.031084, Polarity::normal},
                                        {0.0123, Polarity::inverted},
                                        {0.020, Polarity::inverted},
                                        {0.0005, Polarity::normal}};
    const auto through = [&](std::size_t block)
    {
        Delay delay;
        delay.prepare(at48, 1, 0.2, 0.0);
        Samples samples = input;
        std::size_t start = 0;
        for (const auto& wish : wishes) // the third comes while the second is still faded to
        {
            delay.setAlignment(wish, false);
            run(delay, samples, start, start + 300, block);
            start += 300;
        }
        run(delay, samples, start, samples.size(), block);
        return samples;
    };
    const Samples reference = through(1);
    for (const std::size_t block : {2U, 3U, 16U, 63U, 64U, 255U, 512U, 1024U, 4096U, 8192U})
    {
        INFO("block of " << block);
        CHECK(through(block) == reference);
    }
}

TEST_CASE("two channels are treated alike")
{
    const Samples input = noise(8000, 5);
    Samples left = input;
    Samples right = input;
    for (float& sample : right) sample *= -0.5F;
    Delay delay;
    delay.prepare(at48, 2, 0.2, 0.0);
    delay.setAlignment({0.0107001, Polarity::normal}, false); // fades in from no delay
    float* channels[] = {left.data(), right.data()};
    delay.process(channels, static_cast<int>(input.size()));
    for (std::size_t i = 0; i < left.size(); ++i) REQUIRE(right[i] == -0.5F * left[i]);
}

TEST_CASE("a change fades over its time, exactly old before and exactly new after, with no click")
{
    struct Change
    {
        const char* what;
        Alignment from, to;
    };
    const std::vector<Change> changes{
        {"lag", {0.010, Polarity::normal}, {0.031084, Polarity::normal}},
        {"polarity", {0.010, Polarity::normal}, {0.010, Polarity::inverted}},
        {"both at once", {0.0312345, Polarity::inverted}, {0.0, Polarity::normal}},
    };
    for (const double rate : {44100.0, 48000.0, 96000.0, 192000.0})
        for (const auto& change : changes)
        {
            const auto fade = static_cast<std::size_t>(std::lround(0.015 * rate));
            const Samples input = sine(4 * fade + 20000, 997.0, rate);
            const std::size_t start = 12000;
            Samples output = input;
            Delay delay;
            delay.prepare(rate, 1, 0.2, 0.0);
            delay.setAlignment(change.from, false);
            delay.jump();
            run(delay, output, 0, start, 100);
            delay.setAlignment(change.to, false);
            CHECK(delay.isFading());
            run(delay, output, start, start + fade, 100);
            CHECK_FALSE(delay.isFading());
            run(delay, output, start + fade, output.size(), 100);

            const auto before = delayed(input, rate, change.from);
            const auto after = delayed(input, rate, change.to);
            const auto at = [](const Samples& samples, std::size_t i)
            { return samples.begin() + static_cast<std::ptrdiff_t>(i); };
            INFO(change.what << " at " << rate << " Hz");
            CHECK(std::equal(at(output, 0), at(output, start), at(before, 0)));
            CHECK(std::equal(at(output, start + fade), output.cend(), at(after, start + fade)));

            // Between them nothing but the two, mixed: so no other pitch. The bend that the raised cosine adds: product
            // rule, x'' + 2 g' d' + g'' d with d the difference of the two, at most 2 * 0.5 loud.
            const double w = 2.0 * std::numbers::pi * 997.0 / rate;
            const double g = std::numbers::pi / static_cast<double>(fade);
            const double limit = 0.5 * w * w + 2.0 * (0.5 * g) * w + 0.5 * g * g + 1e-6;
            const double bend = sharpestBend(output, start - 2, start + fade + 2);
            INFO("sharpest bend " << bend << ", limit " << limit);
            CHECK(bend <= limit);
        }
}

TEST_CASE("a wish during a fade waits for its end and only the latest is followed")
{
    const std::size_t fade = 720;
    const Alignment first{0.010, Polarity::normal};
    const Alignment second{0.020, Polarity::normal};
    const Alignment skipped{0.050, Polarity::inverted};
    const Alignment last{0.0301234, Polarity::normal};
    const Samples input = noise(30000, 3);
    Samples output = input;
    Delay delay;
    delay.prepare(at48, 1, 0.2, 0.0);
    delay.setAlignment(first, false);
    delay.jump();
    run(delay, output, 0, 10000, 64);
    delay.setAlignment(second, false);
    run(delay, output, 10000, 10100, 64);
    delay.setAlignment(skipped, false);
    run(delay, output, 10100, 10200, 64);
    delay.setAlignment(last, false);
    run(delay, output, 10200, 10000 + fade, 64);
    CHECK(delay.isFading()); // the second fade follows at once
    run(delay, output, 10000 + fade, output.size(), 64);

    const auto atSecond = delayed(input, at48, second);
    const auto atLast = delayed(input, at48, last);
    const float nearSecond = std::abs(output[10000 + fade - 1] - atSecond[10000 + fade - 1]);
    INFO("off the second place at the end of the first fade by " << nearSecond);
    CHECK(nearSecond < 1e-4F);
    CHECK(std::equal(output.begin() + 10000 + 2 * fade, output.end(), atLast.begin() + 10000 + 2 * fade));

    // Back to where the fade is going: nothing to wait for.
    delay.setAlignment(first, false);
    delay.setAlignment(second, false);
    delay.setAlignment(first, false);
    Samples rest = noise(2000, 4);
    run(delay, rest, 0, fade, 64);
    CHECK_FALSE(delay.isFading());
}

TEST_CASE("asking for the same again fades nothing; reset silences the line and keeps the place")
{
    Delay delay;
    delay.prepare(at48, 1, 0.2, 0.0);
    const Alignment alignment{0.0310001, Polarity::inverted};
    delay.setAlignment(alignment, false);
    delay.jump();
    delay.setAlignment(alignment, false);
    CHECK_FALSE(delay.isFading());

    Samples loud = noise(5000, 9);
    run(delay, loud, 0, loud.size(), 64);
    delay.reset();
    Samples silent(5000, 0.0F);
    run(delay, silent, 0, silent.size(), 64);
    CHECK(std::all_of(silent.begin(), silent.end(), [](float x) { return x == 0.0F; }));

    delay.reset();
    Samples again = noise(5000, 10);
    const Samples expected = delayed(again, at48, alignment);
    run(delay, again, 0, again.size(), 64);
    CHECK(again == expected);
}

TEST_CASE("linear and invariant in time, as a delay has to be")
{
    const Alignment alignment{0.0310123, Polarity::normal};
    const Samples a = noise(6000, 31);
    const Samples b = noise(6000, 32);
    Samples sum(6000);
    Samples later(6000, 0.0F);
    for (std::size_t i = 0; i < sum.size(); ++i) sum[i] = a[i] + b[i];
    std::copy(a.begin(), a.end() - 123, later.begin() + 123);
    const auto da = delayed(a, at48, alignment);
    const auto db = delayed(b, at48, alignment);
    const auto dsum = delayed(sum, at48, alignment);
    const auto dlater = delayed(later, at48, alignment);
    double worst = 0.0;
    for (std::size_t i = 0; i < sum.size(); ++i)
        worst = std::max(worst, static_cast<double>(std::abs(dsum[i] - (da[i] + db[i]))));
    INFO("largest deviation from linear " << worst);
    CHECK(worst < 5e-7); // float rounding of values up to 1
    CHECK(std::equal(dlater.begin() + 123, dlater.end(), da.begin()));
}

TEST_CASE("against SciPy: an exact delay in the FFT domain, error below -100 dB to 20 kHz", "[outside]")
{
    TARRY_NEED_PYTHON(python, "scipy");
    const tarry::test::TemporaryFolder folder;
    const std::string script = R"(
import sys, numpy as np, scipy.fft as sf
folder = sys.argv[1]
x = np.fromfile(folder + '/in.f32', '<f4').astype(float)
y = np.fromfile(folder + '/out.f32', '<f4').astype(float)
rate, lag = float(sys.argv[2]), float(sys.argv[3])
f = sf.rfftfreq(len(x), 1 / rate)
want = sf.rfft(x) * np.exp(-2j * np.pi * f * lag)
band = f <= 20000
error = sf.rfft(y)[band] - want[band]
print(10 * np.log10(np.sum(np.abs(error) ** 2) / np.sum(np.abs(want[band]) ** 2)))
)";
    for (const double rate : {44100.0, 48000.0, 96000.0, 192000.0})
        for (const double lag : {0.001234567, 0.031084, 0.0355250001})
        {
            // Noise with silence around it, so that the circular delay of the FFT is a plain one.
            Samples input(65536, 0.0F);
            const auto burst = noise(30000, 77);
            std::copy(burst.begin(), burst.end(), input.begin() + 10000);
            const auto output = delayed(input, rate, {lag, Polarity::normal});
            const auto write = [&](const char* name, const Samples& samples)
            {
                std::ofstream(folder / name, std::ios::binary)
                    .write(reinterpret_cast<const char*>(samples.data()),
                           static_cast<std::streamsize>(samples.size() * sizeof(float)));
            };
            write("in.f32", input);
            write("out.f32", output);
            const auto result = tarry::test::runPython(
                python, script, {folder.path(), std::to_string(rate), std::to_string(lag * 1e9) + "e-9"});
            INFO(rate << " Hz, " << lag << " s: " << result.output << result.errors);
            REQUIRE(result.status == 0);
            CHECK(std::stod(result.output) <= -100.0);
        }
}
