#include "Core/Delay/Delay.h"

#include "Core/Delay/SincKernel.h"

#include <algorithm>
#include <bit>
#include <cmath>
#include <numbers>

namespace tarry
{
void Delay::prepare(double sampleRate, int channels, double maxDelay, double latencySeconds, double fade)
{
    rate = sampleRate;
    latency = static_cast<int>(std::lround(latencySeconds * sampleRate));
    longest = latency + static_cast<int>(std::ceil(maxDelay * sampleRate));
    ringSize = std::bit_ceil(static_cast<std::size_t>(longest + halfLength + 1));
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
    reset();
}

double Delay::setAlignment(const Alignment& alignment, bool wholeSamples) noexcept
{
    if (rate <= 0.0) return 0.0;
    if (!(alignment == askedFor) || wholeSamples != askedForWhole)
    {
        askedFor = alignment;
        askedForWhole = wholeSamples;

        // The fraction comes from the lag alone: the same lag gives the same kernel whatever the latency.
        const double lag = std::isfinite(alignment.lag) ? alignment.lag * rate : 0.0;
        const double samples = std::clamp(lag, static_cast<double>(-latency), static_cast<double>(longest - latency));
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

float Delay::read(const Tap& tap, const float* line) const noexcept
{
    const std::size_t mask = ringSize - 1;
    const auto turned = [&tap](float x) { return tap.polarity == Polarity::normal ? x : -x; };
    if (tap.fraction == 0.0) return turned(line[(newest - static_cast<std::size_t>(tap.whole)) & mask]);

    const float* oldest = line + ((newest - static_cast<std::size_t>(tap.whole + halfLength)) & mask);
    double sums[4] = {}; // four, so that the additions need not wait for one another
    for (std::size_t i = 0; i < length; i += 4)
        for (std::size_t j = 0; j < 4; ++j) sums[j] += tap.kernel[i + j] * static_cast<double>(oldest[i + j]);
    return turned(static_cast<float>((sums[0] + sums[1]) + (sums[2] + sums[3])));
}

void Delay::process(float* const* channels, int frames) noexcept
{
    if (ringSize == 0) return;
    for (int frame = 0; frame < frames; ++frame)
    {
        newest = (newest + 1) & (ringSize - 1);
        const bool fading = isFading();
        for (std::size_t channel = 0; channel < lines.size(); ++channel)
        {
            float* line = lines[channel].data();
            float& sample = channels[channel][frame];
            line[newest] = sample;
            line[newest + ringSize] = sample;
            sample = read(current, line);
            if (fading) sample += fadeGains[fadePosition] * (read(target, line) - sample);
        }
        if (fading && ++fadePosition == fadeGains.size()) endFade();
    }
}
} // namespace tarry
