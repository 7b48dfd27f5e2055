#include "Core/Evidence/Response.h"

#include "Core/Ground/Lanes.h"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace tarry
{
namespace
{
constexpr double ahead = 0.002;                    // s of the spot taken ahead of the attack
constexpr double attackSeconds = 0.030;            // s of the spot's attack
constexpr double smoothing = 150.0;                // Hz, half width over which spectra are smoothed
constexpr double lowest = 60.0, highest = 18000.0; // Hz

/// out[i] = (total[i + width] - total[i]) / width.
TARRY_ALSO_FOR_AVX
void movingMean(double* out, const double* total, std::size_t count, std::size_t width) noexcept
{
    for (std::size_t i = 0; i < count; ++i) out[i] = (total[i + width] - total[i]) / static_cast<double>(width);
}

/// The mean of `half` values to both sides; of fewer at the ends.
std::vector<double> smoothed(const std::vector<double>& p, int half)
{
    const std::size_t size = p.size(), reach = static_cast<std::size_t>(half), width = 2 * reach + 1;
    std::vector<double> total(size + 1, 0.0), out(size);
    for (std::size_t i = 0; i < size; ++i) total[i + 1] = total[i] + p[i];
    const auto clipped = [&](std::size_t i)
    {
        const std::size_t a = i < reach ? 0 : i - reach, z = std::min(size, i + reach + 1);
        out[i] = (total[z] - total[a]) / static_cast<double>(z - a);
    };
    const std::size_t first = std::min(reach, size), last = size < width ? first : size - reach;
    for (std::size_t i = 0; i < first; ++i) clipped(i);
    if (last > first) movingMean(out.data() + first, total.data(), last - first, width);
    for (std::size_t i = last; i < size; ++i) clipped(i);
    return out;
}
} // namespace

ResponseMeter::ResponseMeter(const LagGrid& g)
    : grid(g), segment(static_cast<int>(attackSeconds * g.rate)), fourier(fastSize(g.count + 2 * segment)),
      half(std::max(1, static_cast<int>(smoothing * fourier.size() / g.rate)))
{
}

/// Rises from 0 to 1 in so many samples: half a Hann window. Worked out once.
const std::vector<double>& ResponseMeter::fade(int length)
{
    std::vector<double>& shape = fades[length];
    for (int i = static_cast<int>(shape.size()); i < length; ++i)
        shape.push_back(0.5 - 0.5 * std::cos(std::numbers::pi * i / length));
    return shape;
}

/// A stretch of x, silent beyond its ends, faded in and out.
void ResponseMeter::copySegment(std::span<const double> x, int from, int frames, int fadeIn, int fadeOut)
{
    const std::span<double> to = fourier.time();
    std::fill(to.begin(), to.end(), 0.0);
    const int first = std::clamp(-from, 0, frames), last = std::clamp(static_cast<int>(x.size()) - from, first, frames);
    if (last > first) std::copy_n(x.begin() + (from + first), last - first, to.begin() + first);
    const std::vector<double>&in = fade(fadeIn), &out = fade(fadeOut);
    for (std::size_t i = 0; i < in.size(); ++i) to[i] *= in[i];
    const std::size_t end = static_cast<std::size_t>(frames);
    for (std::size_t i = 1; i < out.size(); ++i) to[end - i] *= out[i];
}

/// The smoothed power spectrum of a stretch, per sample, faded at both ends.
std::vector<double> ResponseMeter::power(std::span<const double> x, int from, int frames)
{
    copySegment(x, from, frames, frames / 8, frames / 8);
    fourier.forward();
    std::vector<double> p(static_cast<std::size_t>(fourier.bins()));
    for (std::size_t k = 0; k < p.size(); ++k) p[k] = std::norm(fourier.spectrum()[k]) / frames;
    return smoothed(p, half);
}

void ResponseMeter::whiten(Spectrum& out, const std::vector<double>& noise, const std::vector<double>& signal)
{
    fourier.forward();
    const auto x = fourier.spectrum();
    std::vector<double> p(x.size());
    for (std::size_t k = 0; k < p.size(); ++k) p[k] = std::norm(x[k]);
    p = smoothed(p, half);
    out.assign(x.size(), {});
    const double perBin = grid.rate / fourier.size();
    const auto last = std::min(out.size() - 1, static_cast<std::size_t>(highest / perBin));
    for (auto k = static_cast<std::size_t>(std::ceil(lowest / perBin)); k <= last; ++k)
    {
        const double coherence = std::max(0.0, 1.0 - noise[k] / std::max(signal[k], 1e-30));
        if (p[k] > 0.0) out[k] = x[k] * (coherence / std::sqrt(p[k]));
    }
}

void ResponseMeter::ofSpot(Spectrum& result, std::span<const double> spot, int onset)
{
    const int lead = static_cast<int>(ahead * grid.rate);
    const auto noise = power(spot, onset - lead - segment, segment), signal = power(spot, onset - lead, segment);
    copySegment(spot, onset - lead, segment, lead / 2, segment / 2);
    whiten(result, noise, signal);
}

void ResponseMeter::ofRoom(Spectrum& result, std::span<const double> room, int onset)
{
    const int lead = static_cast<int>(ahead * grid.rate);
    const int origin = grid.noise + grid.back; // grid index of lag zero
    const auto noise = power(room, onset - origin, grid.noise);
    const auto signal = power(room, onset - lead, grid.count - origin); // from lag zero to the reach
    copySegment(room, onset - lead - origin, grid.count + segment, grid.noise / 4, segment / 2);
    whiten(result, noise, signal);
}

std::array<std::vector<float>, bandCount> ResponseMeter::between(const Spectrum& spot, const Spectrum& room)
{
    // A bare copy gives a peak of 2 * sum(w) / size; scale it to the share of the spectrum in use.
    const double scale = fourier.size() / (2.0 * fourier.bins());
    const auto bin = [&](double hz) { return static_cast<std::size_t>(std::ceil(hz * fourier.size() / grid.rate)); };
    std::array<std::vector<float>, bandCount> out;
    for (std::size_t b = 0; b < bandCount; ++b)
    {
        const auto to = fourier.spectrum();
        std::fill(to.begin(), to.end(), 0.0);
        const std::size_t end = b + 1 == bandCount ? to.size() : std::min(to.size(), bin(bands[b].high));
        for (std::size_t k = b == 0 ? 0 : bin(bands[b].low); k < end; ++k) to[k] = room[k] * std::conj(spot[k]);
        fourier.inverse();
        out[b].resize(static_cast<std::size_t>(grid.count));
        for (std::size_t i = 0; i < out[b].size(); ++i) out[b][i] = static_cast<float>(fourier.time()[i] * scale);
    }
    return out;
}
} // namespace tarry
