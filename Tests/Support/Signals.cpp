#include "Support/Signals.h"

#include <algorithm>
#include <cmath>
#include <complex>
#include <fstream>
#include <numbers>
#include <random>

namespace tarry::test
{
namespace
{
constexpr double tau = 2.0 * std::numbers::pi;
}

double gainOf(double decibels)
{
    return std::pow(10.0, decibels / 20.0);
}

Samples noise(std::size_t frames, unsigned seed, double rms)
{
    Samples samples(frames);
    if (rms <= 0.0) return samples; // silence: the standard asks of a normal distribution a deviation above 0
    std::mt19937 engine(seed);
    std::normal_distribution<double> value(0.0, rms);
    for (float& x : samples) x = static_cast<float>(value(engine));
    return samples;
}

Samples sine(std::size_t frames, double hertz, double sampleRate, double amplitude, double phase)
{
    Samples samples(frames);
    for (std::size_t i = 0; i < frames; ++i)
        samples[i] =
            static_cast<float>(amplitude * std::sin(tau * hertz / sampleRate * static_cast<double>(i) + phase));
    return samples;
}

void addStrokes(Samples& to, double sampleRate, const Strokes& strokes, double delay, double gain)
{
    std::mt19937 engine(strokes.seed);
    std::uniform_real_distribution<double> uniform(0.0, 1.0);
    std::vector<double> sum(to.size(), 0.0);
    for (const double time : strokes.times)
        for (int p = 0; p < strokes.partials; ++p)
        {
            const double hertz = strokes.lowHertz * std::pow(strokes.highHertz / strokes.lowHertz, uniform(engine));
            const double sign = uniform(engine) < 0.5 ? -1.0 : 1.0;
            const double strength = sign * (0.5 + uniform(engine)) * 2.0 * strokes.level / std::sqrt(strokes.partials);
            const double decay = 0.004 + 6.0 / hertz; // s: high partials are gone first
            const double start = (time + delay) * sampleRate;
            const auto first = static_cast<std::size_t>(std::max(0.0, std::ceil(start)));
            const double since = (static_cast<double>(first) - start) / sampleRate;
            const std::complex<double> rate(-1.0 / decay, tau * hertz);
            std::complex<double> value = gain * strength * std::exp(rate * since);
            const std::complex<double> turn = std::exp(rate / sampleRate);
            const auto end = std::min(sum.size(), first + static_cast<std::size_t>(12.0 * decay * sampleRate));
            for (std::size_t i = first; i < end; ++i)
            {
                sum[i] += value.imag();
                value *= turn;
            }
        }
    for (std::size_t i = 0; i < to.size(); ++i) to[i] += static_cast<float>(sum[i]);
}

std::vector<double> evenTimes(int n, double first, double apart)
{
    std::vector<double> times;
    for (int i = 0; i < n; ++i) times.push_back(first + i * apart);
    return times;
}

void scale(Samples& samples, double gain)
{
    for (float& x : samples) x *= static_cast<float>(gain);
}

void addTo(Samples& samples, const Samples& other, double gain)
{
    for (std::size_t i = 0; i < std::min(samples.size(), other.size()); ++i)
        samples[i] += static_cast<float>(gain) * other[i];
}

Samples later(const Samples& samples, std::size_t frames)
{
    Samples result(samples.size(), 0.0F);
    std::copy(samples.begin(), samples.end() - static_cast<std::ptrdiff_t>(frames),
              result.begin() + static_cast<std::ptrdiff_t>(frames));
    return result;
}

Take makeTake(double sampleRate, double lag, const Strokes& strokes, double roomGain, double noiseDb)
{
    const double last = *std::max_element(strokes.times.begin(), strokes.times.end());
    const auto frames = static_cast<std::size_t>((last + 0.6) * sampleRate); // of one length whatever the lag
    Take take{sampleRate, lag, noise(frames, strokes.seed + 1000, gainOf(noiseDb)),
              noise(frames, strokes.seed + 2000, gainOf(noiseDb))};
    addStrokes(take.spot, sampleRate, strokes);
    addStrokes(take.room, sampleRate, strokes, lag, roomGain);
    return take;
}

void writeRaw(const std::string& file, const Samples& samples)
{
    std::ofstream(file, std::ios::binary)
        .write(reinterpret_cast<const char*>(samples.data()),
               static_cast<std::streamsize>(samples.size() * sizeof(float)));
}
} // namespace tarry::test
