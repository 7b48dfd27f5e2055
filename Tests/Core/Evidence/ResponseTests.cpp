#include "Core/Evidence/Response.h"

#include "Core/Ground/Fourier.h"
#include "Support/Catch.h"
#include "Support/Python.h"
#include "Support/Signals.h"

#include <algorithm>
#include <cmath>
#include <iterator>
#include <numbers>

using namespace tarry;
using namespace tarry::test;

namespace
{
constexpr double attackTime = 0.3; // s

std::vector<double> wide(const Samples& samples)
{
    return {samples.begin(), samples.end()};
}

/// The whole response: all bands.
std::vector<double> responseOf(const Take& take, const LagGrid& grid, double attack = attackTime)
{
    ResponseMeter meter(grid);
    const int onset = static_cast<int>(std::lround(attack * take.sampleRate));
    ResponseMeter::Spectrum spot, room;
    meter.ofSpot(spot, wide(take.spot), onset);
    meter.ofRoom(room, wide(take.room), onset);
    const auto bandwise = meter.between(spot, room);
    std::vector<double> sum(static_cast<std::size_t>(grid.count), 0.0);
    for (const auto& band : bandwise)
        for (std::size_t i = 0; i < sum.size(); ++i) sum[i] += static_cast<double>(band.at(i));
    return sum;
}

struct Peak
{
    double lag, value;
};

/// Between the samples by a windowed sinc: a response of limited band is known there too.
double between(const std::vector<double>& x, double at)
{
    constexpr int half = 32;
    const int middle = static_cast<int>(std::lround(at));
    double sum = 0.0;
    for (int i = std::max(0, middle - half); i <= std::min(static_cast<int>(x.size()) - 1, middle + half); ++i)
    {
        const double t = std::numbers::pi * (at - i);
        const double sinc = std::abs(t) < 1e-9 ? 1.0 : std::sin(t) / t;
        sum += x[static_cast<std::size_t>(i)] * sinc * (0.5 + 0.5 * std::cos(t / (half + 1)));
    }
    return sum;
}

Peak peakOf(const std::vector<double>& response, const LagGrid& grid)
{
    std::size_t largest = 0;
    for (std::size_t i = 0; i < response.size(); ++i)
        if (std::abs(response[i]) > std::abs(response[largest])) largest = i;
    Peak peak{0.0, 0.0};
    for (int step = -100; step <= 100; ++step) // a hundredth of a sample each
    {
        const double at = static_cast<double>(largest) + 0.01 * step;
        if (const double value = between(response, at); std::abs(value) > std::abs(peak.value))
            peak = {grid.lag(at), value};
    }
    return peak;
}

/// Exactly later, between samples too: a turn of the phase of every frequency. The end has to be silent.
Samples exactlyLater(const Samples& samples, double rate, double seconds)
{
    Fourier fourier(fastSize(2 * static_cast<int>(samples.size())));
    std::fill(fourier.time().begin(), fourier.time().end(), 0.0);
    std::copy(samples.begin(), samples.end(), fourier.time().begin());
    fourier.forward();
    for (int k = 0; k < fourier.bins(); ++k)
        fourier.spectrum()[static_cast<std::size_t>(k)] *=
            std::polar(1.0, -2.0 * std::numbers::pi * k * rate / fourier.size() * seconds);
    fourier.inverse();
    const auto end = fourier.time().begin() + static_cast<std::ptrdiff_t>(samples.size());
    Samples result;
    std::transform(fourier.time().begin(), end, std::back_inserter(result),
                   [](double x) { return static_cast<float>(x); });
    return result;
}

/// A stroke dense enough in its partials that its spectrum has no holes, and the room a bare copy of it.
Take denseTake(double rate, double lag, unsigned seed, double roomGain = 0.1)
{
    Strokes strokes;
    strokes.times = {attackTime};
    strokes.seed = seed;
    strokes.partials = 300;
    Samples copy(static_cast<std::size_t>(0.8 * rate), 0.0F);
    addStrokes(copy, rate, strokes);
    Take take{rate, lag, copy, exactlyLater(copy, rate, lag)};
    scale(take.room, roomGain);
    addTo(take.spot, noise(copy.size(), seed + 1000, gainOf(-100.0)));
    addTo(take.room, noise(copy.size(), seed + 2000, gainOf(-100.0)));
    return take;
}
} // namespace

TEST_CASE("a bare copy gives a peak at its lag, a fraction of a sample included", "[response]")
{
    for (const double rate : {44100.0, 48000.0})
        for (const double lag : {0.0, 0.0031234, 0.0310841, 0.0701})
            for (unsigned seed = 1; seed <= 3; ++seed)
            {
                const LagGrid grid(rate, 0.0, 0.080);
                const Peak peak = peakOf(responseOf(denseTake(rate, lag, seed), grid), grid);
                const double off = (peak.lag - lag) * rate;
                INFO("lag " << lag * 1e3 << " ms at " << rate << " Hz, seed " << seed << ": off by " << off
                            << " samples, limit 0.02; peak " << peak.value);
                CHECK(std::abs(off) <= 0.02);
                CHECK(peak.value > 0.0);
            }
}

TEST_CASE("the peak of a bare copy is about the share of the spectrum that is used, at any gain", "[response]")
{
    const double rate = 48000.0, lag = 1000.0 / rate; // whole samples, so that the peak lies on the grid
    const LagGrid grid(rate, 0.0, 0.080);
    for (const double gain : {10.0, 1.0, 0.01})
    {
        // Noise that begins: every frequency is there, at the same strength.
        Take take{rate, lag, noise(38400, 1, 1e-9), noise(38400, 2, 1e-9)};
        const Samples burst = noise(4800, 3, 0.1);
        for (std::size_t i = 0; i < burst.size(); ++i)
        {
            take.spot[14400 + i] += burst[i];
            take.room[15400 + i] += static_cast<float>(gain) * burst[i];
        }
        const double used = (18000.0 - 60.0) / 24000.0; // Hz of Hz: see ResponseMeter
        const Peak peak = peakOf(responseOf(take, grid), grid);
        INFO("gain " << gain << ": peak " << peak.value << " of " << used);
        CHECK(std::abs(peak.lag - lag) * rate <= 0.02);
        // Half of the room's longer stretch is another piece of the burst, which whitening shares the peak with.
        CHECK(peak.value >= 0.5 * used);
        CHECK(peak.value <= 1.05 * used);
    }
}

TEST_CASE("turned over, every value changes its sign and nothing else", "[response]")
{
    const LagGrid grid(48000.0, 0.0, 0.080);
    Take take = denseTake(48000.0, 0.0123, 5);
    const auto normal = responseOf(take, grid);
    scale(take.room, -1.0);
    const auto inverted = responseOf(take, grid);
    double worst = 0.0;
    for (std::size_t i = 0; i < normal.size(); ++i) worst = std::max(worst, std::abs(normal[i] + inverted[i]));
    CHECK(worst == 0.0);
}

TEST_CASE("a spot later than the room is found with look-back", "[response]")
{
    const LagGrid grid(48000.0, 0.020, 0.080);
    Take take = denseTake(48000.0, 0.015, 7);
    std::swap(take.spot, take.room);
    const Peak peak = peakOf(responseOf(take, grid, attackTime + 0.015), grid);
    INFO("found " << peak.lag * 1e3 << " ms");
    CHECK(std::abs(peak.lag + 0.015) * 48000.0 <= 0.02);
}

TEST_CASE("silence and noise alone make no figure that is not finite, and no peak that stands out", "[response]")
{
    const LagGrid grid(48000.0, 0.0, 0.080);
    for (const double level : {0.0, 0.01})
    {
        const Take take{48000.0, 0.0, noise(38400, 8, level), noise(38400, 9, level)};
        for (const double x : responseOf(take, grid))
        {
            if (!std::isfinite(x)) FAIL("not finite");
            if (std::abs(x) > 0.2) FAIL("seeds 8 and 9: " << x << " out of noise, limit 0.2");
        }
    }
}

TEST_CASE("against SciPy: the peak lies where scipy.signal.correlate has it", "[response][outside]")
{
    TARRY_NEED_PYTHON(python, "scipy");
    const TemporaryFolder folder;
    // The lag of the largest correlation, with the correlation interpolated 16 times by its spectrum.
    const std::string script = R"(
import sys, numpy as np, scipy.signal as ss
folder, rate = sys.argv[1], float(sys.argv[2])
spot = np.fromfile(folder + '/spot.f32', '<f4').astype(float)
room = np.fromfile(folder + '/room.f32', '<f4').astype(float)
# Both whitened alike by the spot's own long-term prediction, so that the correlation has one sharp peak.
r = ss.correlate(spot, spot, 'full', 'fft')[len(spot) - 1:][:65]
from scipy.linalg import solve_toeplitz
a = np.concatenate([[1.0], -solve_toeplitz(r[:64] * np.r_[1.0001, np.ones(63)], r[1:65])])
spot, room = ss.lfilter(a, 1, spot), ss.lfilter(a, 1, room)
c = ss.correlate(room, spot, 'full', 'fft')
lags = ss.correlation_lags(len(room), len(spot), 'full')
keep = (lags > -1000) & (lags < 5000)
fine = ss.resample(c[keep], 16 * keep.sum())
print((lags[keep][0] + np.argmax(np.abs(fine)) / 16.0) / rate)
)";
    for (const double rate : {44100.0, 48000.0})
        for (const double lag : {0.0051, 0.0310841})
        {
            const Take take = denseTake(rate, lag, 11);
            writeRaw(folder / "spot.f32", take.spot);
            writeRaw(folder / "room.f32", take.room);
            const auto result = runPython(python, script, {folder.path(), std::to_string(rate)});
            INFO(result.output << result.errors);
            REQUIRE(result.status == 0);
            const LagGrid grid(rate, 0.0, 0.080);
            const double scipy = std::stod(result.output);
            const double ours = peakOf(responseOf(take, grid), grid).lag;
            INFO("SciPy " << scipy * 1e3 << " ms, ours " << ours * 1e3 << " ms, limit 0.05 sample apart");
            CHECK(std::abs(ours - scipy) * rate <= 0.05); // each is known to about 1/32 sample
        }
}
