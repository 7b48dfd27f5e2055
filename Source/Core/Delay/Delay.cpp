#include "Core/Delay/Delay.h"

#include "Core/Delay/SincKernel.h"
#include "Core/Ground/Lanes.h"

#include <algorithm>
#include <bit>
#include <cmath>
#include <cstring>
#include <functional>
#include <numbers>

namespace tarry
{
namespace
{
constexpr std::size_t lanes = sizeof(Lanes) / sizeof(double);

constexpr std::size_t atOnce = 8; // outputs, which share what is read of the kernel

/// Each output is the sum over Delay::length of kernel and input, in four parts so that the additions need not wait for
/// one another. `frames` is rounded up to `atOnce`, in and out.
TARRY_ALSO_FOR_AVX
void convolve(const double* in, const double* kernel, double* out, std::size_t frames) noexcept
{
    static_assert(Delay::length % 4 == 0);
    for (std::size_t k = 0; k < frames; k += atOnce)
    {
        Lanes early[4] = {}, late[4] = {};
        for (std::size_t i = 0; i < Delay::length; i += 4)
            for (std::size_t j = 0; j < 4; ++j)
            {
                Lanes x, y;
                load(x, in + k + i + j);
                load(y, in + k + i + j + lanes);
                early[j] += kernel[i + j] * x;
                late[j] += kernel[i + j] * y;
            }
        const Lanes sums[2] = {(early[0] + early[1]) + (early[2] + early[3]),
                               (late[0] + late[1]) + (late[2] + late[3])};
        std::memcpy(out + k, sums, sizeof sums);
    }
}
} // namespace

void Delay::prepare(double sampleRate, int channels, double maxDelay, double latencySeconds, double fade)
{
    rate = sampleRate;
    latency = mostLatency = static_cast<int>(std::lround(latencySeconds * sampleRate));
    longest = static_cast<int>(std::ceil(maxDelay * sampleRate));
    ringSize = std::bit_ceil(static_cast<std::size_t>(mostLatency + longest + length) + piece);
    lines.assign(static_cast<std::size_t>(channels), std::vector<float>(2 * ringSize, 0.0F));

    // Spot and its delayed self are correlated, so the gains add up to 1 (raised cosine), not their squares.
    fadeGains.resize(static_cast<std::size_t>(std::lround(fade * sampleRate)));
    for (std::size_t i = 0; i < fadeGains.size(); ++i)
    {
        const double part = static_cast<double>(i + 1) / static_cast<double>(fadeGains.size() + 1);
        fadeGains[i] = static_cast<float>(0.5 - 0.5 * std::cos(std::numbers::pi * part));
    }

    wanted = {};
    wanted.whole = latency;
    askedFor = {};
    askedForWhole = false;
    askedForLatency = latency;
    reset();
}

double Delay::setAlignment(const Alignment& alignment, bool wholeSamples) noexcept
{
    if (rate <= 0.0) return 0.0;
    if (!(alignment == askedFor) || wholeSamples != askedForWhole || latency != askedForLatency)
    {
        askedFor = alignment;
        askedForWhole = wholeSamples;
        askedForLatency = latency;

        // The fraction comes from the lag alone: the same lag gives the same kernel whatever the latency.
        const double lag = std::isfinite(alignment.lag) ? alignment.lag * rate : 0.0;
        const double samples = std::clamp(lag, static_cast<double>(-latency), static_cast<double>(longest));
        const double nearest = std::round(samples);
        const bool tooShort = samples + latency < halfLength;
        const bool isWhole = wholeSamples || tooShort || std::abs(samples - nearest) <= wholeTolerance * rate;
        const double below = isWhole ? nearest : std::floor(samples);

        wanted.whole = static_cast<int>(below) + latency;
        wanted.fraction = isWhole ? 0.0 : samples - below;
        wanted.polarity = alignment.polarity;
        if (wanted.fraction > 0.0)
        {
            fillSincKernel(wanted.kernel, halfLength - 1 + wanted.fraction, beta);
            std::reverse(wanted.kernel.begin(), wanted.kernel.end());
        }
        if (!isFading() && !wanted.isAt(current)) startFade();
    }
    return wanted.whole - latency + wanted.fraction;
}

void Delay::startFade() noexcept
{
    target = wanted;
    fadePosition = 0;
    if (fadeGains.empty()) endFade();
}

void Delay::endFade() noexcept
{
    current = target;
    fadePosition = fadeGains.size();
    if (!wanted.isAt(current)) startFade();
}

void Delay::jump() noexcept
{
    current = wanted;
    fadePosition = fadeGains.size();
}

void Delay::reset() noexcept
{
    for (auto& line : lines) std::fill(line.begin(), line.end(), 0.0F);
    newest = 0;
    jump();
}

void Delay::write(float* line, const float* samples, std::size_t frames) const noexcept
{
    const std::size_t from = (newest + 1) & (ringSize - 1);
    const std::size_t first = std::min(frames, ringSize - from);
    for (float* half : {line, line + ringSize})
    {
        std::copy_n(samples, first, half + from);
        std::copy_n(samples + first, frames - first, half);
    }
}

void Delay::read(const Tap& tap, const float* line, float* samples, std::size_t frames) const noexcept
{
    const auto place = [&](int ago) // of the first frame, the line's whole stretch from there on
    { return line + ((newest + 1 - static_cast<std::size_t>(ago)) & (ringSize - 1)); };
    if (tap.fraction == 0.0)
        std::copy_n(place(tap.whole), frames, samples);
    else
    {
        std::array<double, piece + length + atOnce> in{};
        std::array<double, piece + atOnce> out; // NOLINT: written to the last one that is read
        std::copy_n(place(tap.whole + halfLength), frames + length - 1, in.begin());
        convolve(in.data(), tap.kernel.data(), out.data(), frames);
        std::transform(out.begin(), out.begin() + static_cast<std::ptrdiff_t>(frames), samples,
                       [](double x) { return static_cast<float>(x); });
    }
    if (tap.polarity == Polarity::inverted) std::transform(samples, samples + frames, samples, std::negate<>());
}

void Delay::process(float* const* channels, int frames) noexcept
{
    if (ringSize == 0) return;
    std::array<float, piece> other; // NOLINT: written to the last one that is read
    for (std::size_t done = 0, n = 0; done < static_cast<std::size_t>(frames); done += n)
    {
        n = std::min(static_cast<std::size_t>(frames) - done, piece);
        const bool fading = isFading();
        if (fading) n = std::min(n, fadeGains.size() - fadePosition);
        for (std::size_t channel = 0; channel < lines.size(); ++channel)
        {
            float* line = lines[channel].data();
            float* samples = channels[channel] + done;
            write(line, samples, n);
            read(current, line, samples, n);
            if (!fading) continue;
            read(target, line, other.data(), n);
            for (std::size_t k = 0; k < n; ++k) samples[k] += fadeGains[fadePosition + k] * (other[k] - samples[k]);
        }
        newest = (newest + n) & (ringSize - 1);
        if (fading && (fadePosition += n) == fadeGains.size()) endFade();
    }
}
} // namespace tarry
