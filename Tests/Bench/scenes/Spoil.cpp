#include "Spoil.h"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace tarry::bench
{
namespace
{
float peakOf(const std::vector<float>& track)
{
    float peak = 0.0F;
    for (const float x : track) peak = std::max(peak, std::abs(x));
    return peak;
}
} // namespace

void addHum(Example& example)
{
    for (auto* tracks : {&example.spot, &example.room})
        for (auto& track : *tracks)
        {
            const double level = 0.0316 * static_cast<double>(peakOf(track));
            for (std::size_t i = 0; i < track.size(); ++i)
            {
                const double phase =
                    2.0 * std::numbers::pi * 50.0 * static_cast<double>(i) / example.settings.sampleRate;
                double hum = 0.0;
                for (const int harmonic : {1, 3, 5, 7}) hum += std::sin(harmonic * phase + harmonic) / harmonic;
                track[i] += static_cast<float>(level * hum + 0.05);
            }
        }
}

void clipSpot(Example& example)
{
    for (auto& track : example.spot)
    {
        const float gain = 4.0F / std::max(peakOf(track), 1e-9F);
        for (float& x : track) x = std::clamp(gain * x, -1.0F, 1.0F);
    }
}

void gateSpot(Example& example)
{
    const double rate = example.settings.sampleRate;
    const auto opening = static_cast<float>(1.0 / (0.001 * rate));
    const auto closing = static_cast<float>(1.0 / (0.100 * rate));
    const auto hold = static_cast<int>(0.050 * rate);
    for (auto& track : example.spot)
    {
        const float threshold = 0.0316F * peakOf(track);
        float gain = 0.0F;
        int open = 0;
        for (float& x : track)
        {
            open = std::abs(x) > threshold ? hold : std::max(0, open - 1);
            gain = std::clamp(open > 0 ? gain + opening : gain - closing, 0.0F, 1.0F);
            x *= gain;
        }
    }
}

void drift(Example& example)
{
    constexpr double ppm = 20.0;
    example.driftPpm = ppm;
    const double rate = example.settings.sampleRate;
    const double middle = 0.5 * (example.hitTimes.front() + example.hitTimes.back()) + *example.lag;
    for (auto& track : example.room)
    {
        // Windowed sinc, 32 samples either way: the clock errs by far less than a sample over its length.
        const auto heard = track;
        const auto size = static_cast<std::ptrdiff_t>(heard.size());
        for (std::ptrdiff_t i = 0; i < size; ++i)
        {
            const double place = static_cast<double>(i) - ppm * 1e-6 * (static_cast<double>(i) - middle * rate);
            const auto whole = static_cast<std::ptrdiff_t>(std::floor(place));
            double sum = 0.0;
            for (std::ptrdiff_t k = std::max<std::ptrdiff_t>(0, whole - 31); k <= std::min(size - 1, whole + 32); ++k)
            {
                const double t = std::numbers::pi * (place - static_cast<double>(k));
                const double sinc = std::abs(t) < 1e-9 ? 1.0 : std::sin(t) / t;
                sum +=
                    static_cast<double>(heard[static_cast<std::size_t>(k)]) * sinc * (0.5 + 0.5 * std::cos(t / 33.0));
            }
            track[static_cast<std::size_t>(i)] = static_cast<float>(sum);
        }
    }
}
} // namespace tarry::bench
