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
constexpr std::size_t lanes = sizeof(SingleLanes) / sizeof(float);

constexpr std::size_t atOnce = 2 * lanes; // outputs, which share what is read of the kernel

/// Each output is the sum over Delay::length of kernel and input, in two parts so that the additions need not wait for
/// one another. In single precision: rounding stays 130 dB below the output, and it costs half of what double does.
/// `frames` is rounded up to `atOnce`, in and out.
TARRY_ALSO_FOR_AVX
void convolve(const float* in, const float* kernel, float* out, std::size_t frames) noexcept
{
    static_assert(Delay::length % 2 == 0);
    for (std::size_t k = 0; k < frames; k += atOnce)
    {
        SingleLanes early[2] = {}, late[2] = {};
        for (std::size_t i = 0; i < Delay::length; i += 2)
            for (std::size_t j = 0; j < 2; ++j)
            {
                SingleLanes x, y;
                load(x, in + k + i + j);
                load(y, in + k + i + j + lanes);
                early[j] += kernel[i + j] * x;
                late[j] += kernel[i + j] * y;
            }
        const SingleLanes sums[2] = {early[0] + early[1], late[0] + late[1]};
        std::memcpy(out + k, sums, sizeof sums);
    }
}
} // namespace

void Delay::prepare(double sampleRate, int channels, double maxDelay, double latencySeconds, double fade)
{
    rate = sampleRate;
    latency = mostLatency = static_cast<int>(std::lround(latencySeconds * sampleRate));
    longest = static_cast<int>(std::ceil(maxDelay * sampleRate));
    ringSize = std::bit_ceil(static_cast<std::size_t>(mostLatency + longest + length) + piece + atOnce);
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
            std::array<double, length> taps; // NOLINT: all of them are filled
            fillSincKernel(taps, halfLength - 1 + wanted.fraction, beta);
            std::transform(taps.rbegin(), taps.rend(), wanted.kernel.begin(),
                           [](double tap) { return static_cast<float>(tap); });
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
        // What the last lanes read beyond the newest sample is older, and what they give is not used.
        std::array<float, piece + atOnce> out; // NOLINT: written to the last one that is read
        convolve(place(tap.whole + halfLength), tap.kernel.data(), out.data(), frames);
        std::copy_n(out.begin(), frames, samples);
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
