// Properties, as FFTW's own libbench2 tests them: impulse, linearity, shift; and those that follow.
#include "Core/Ground/Fourier.h"

#include "Support/Catch.h"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <random>

using namespace tarry;

namespace
{
using Spectrum = std::vector<std::complex<double>>;

std::vector<double> randomSamples(int size, unsigned seed)
{
    std::mt19937 engine(seed);
    std::uniform_real_distribution<double> value(-1.0, 1.0);
    std::vector<double> x(static_cast<std::size_t>(size));
    for (double& v : x) v = value(engine);
    return x;
}

Spectrum spectrumOf(const std::vector<double>& x)
{
    Fourier fourier(static_cast<int>(x.size()));
    std::copy(x.begin(), x.end(), fourier.time().begin());
    fourier.forward();
    return {fourier.spectrum().begin(), fourier.spectrum().end()};
}

double largestDifference(const Spectrum& a, const Spectrum& b)
{
    double most = 0.0;
    for (std::size_t i = 0; i < a.size(); ++i) most = std::max(most, std::abs(a[i] - b[i]));
    return most;
}

const std::vector<int> sizes{2, 8, 30, 64, 1000, 1024, 16384};
constexpr double rounding = 1e-10; // doubles of about 1, at most 16384 of them summed
} // namespace

TEST_CASE("an impulse has a flat spectrum of 1; a constant has all in bin 0", "[fourier]")
{
    for (const int size : sizes)
    {
        INFO("size " << size);
        std::vector<double> impulse(static_cast<std::size_t>(size), 0.0);
        impulse[0] = 1.0;
        const Spectrum flat = spectrumOf(impulse);
        CHECK(static_cast<int>(flat.size()) == size / 2 + 1);
        CHECK(largestDifference(flat, Spectrum(flat.size(), 1.0)) < rounding);
        Spectrum constant(flat.size(), 0.0);
        constant[0] = size;
        CHECK(largestDifference(spectrumOf(std::vector<double>(static_cast<std::size_t>(size), 1.0)), constant) <
              rounding);
    }
}

TEST_CASE("linear", "[fourier]")
{
    for (const int size : sizes)
    {
        const auto x = randomSamples(size, 1), y = randomSamples(size, 2);
        std::vector<double> mix(x.size());
        for (std::size_t i = 0; i < x.size(); ++i) mix[i] = 0.7 * x[i] - 1.3 * y[i];
        const Spectrum a = spectrumOf(x), b = spectrumOf(y);
        Spectrum expected(a.size());
        for (std::size_t k = 0; k < a.size(); ++k) expected[k] = 0.7 * a[k] - 1.3 * b[k];
        const double off = largestDifference(spectrumOf(mix), expected);
        INFO("size " << size << ", seeds 1 and 2: off by " << off << ", limit " << rounding);
        CHECK(off < rounding);
    }
}

TEST_CASE("a circular shift turns the phase", "[fourier]")
{
    for (const int size : sizes)
    {
        auto x = randomSamples(size, 3);
        Spectrum expected = spectrumOf(x);
        const int shift = size / 3;
        for (std::size_t k = 0; k < expected.size(); ++k)
            expected[k] *= std::polar(1.0, -2.0 * std::numbers::pi * (static_cast<int>(k) * shift % size) / size);
        std::rotate(x.begin(), x.end() - shift, x.end());
        const double off = largestDifference(spectrumOf(x), expected);
        INFO("size " << size << ", seed 3: off by " << off << ", limit " << rounding);
        CHECK(off < rounding);
    }
}

TEST_CASE("energy is kept (Parseval), and inverse(forward(x)) = x", "[fourier]")
{
    for (const int size : sizes)
    {
        const auto x = randomSamples(size, 4);
        Fourier fourier(size);
        CHECK(fourier.size() == size);
        CHECK(fourier.bins() == size / 2 + 1);
        std::copy(x.begin(), x.end(), fourier.time().begin());
        fourier.forward();
        double inTime = 0.0, inBins = 0.0;
        for (const double v : x) inTime += v * v;
        for (int k = 0; k < fourier.bins(); ++k)
        {
            const bool alone = k == 0 || 2 * k == size; // the others stand for their mirror images too
            inBins += (alone ? 1.0 : 2.0) * std::norm(fourier.spectrum()[static_cast<std::size_t>(k)]) / size;
        }
        INFO("size " << size << ", seed 4");
        CHECK(inBins == Approx(inTime).epsilon(1e-12));
        fourier.inverse();
        double off = 0.0;
        for (std::size_t i = 0; i < x.size(); ++i) off = std::max(off, std::abs(fourier.time()[i] - x[i]));
        CHECK(off < rounding);
    }
}

TEST_CASE("the same samples give the same spectrum to the last bit", "[fourier]")
{
    const auto x = randomSamples(4096, 5);
    CHECK(spectrumOf(x) == spectrumOf(x));
}

TEST_CASE("fastSize: even, with small factors alone, not below what was asked, hardly above it", "[fourier]")
{
    for (const int n : {1, 2, 3, 64, 65, 5000, 16384})
    {
        const int size = fastSize(n);
        CHECK(size >= n);
        CHECK(size <= n + 2 + n / 8);
        CHECK(size % 2 == 0);
        int rest = size;
        for (const int factor : {2, 3, 5})
            while (rest % factor == 0) rest /= factor;
        CHECK(rest == 1);
    }
}
