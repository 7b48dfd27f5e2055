#include "Core/Evidence/Response.h"

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

void copySegment(std::span<double> to, std::span<const double> x, int from, int frames, int fadeIn, int fadeOut)
{
    std::fill(to.begin(), to.end(), 0.0);
    for (int i = 0; i < frames; ++i)
    {
        const int at = from + i;
        if (at < 0 || at >= static_cast<int>(x.size())) continue;
        double w = 1.0;
        if (i < fadeIn) w *= 0.5 - 0.5 * std::cos(std::numbers::pi * i / fadeIn);
        if (frames - i < fadeOut) w *= 0.5 - 0.5 * std::cos(std::numbers::pi * (frames - i) / fadeOut);
        to[static_cast<std::size_t>(i)] = x[static_cast<std::size_t>(at)] * w;
    }
}

std::vector<double> smoothed(const std::vector<double>& p, int half)
{
    const int size = static_cast<int>(p.size());
    std::vector<double> total(p.size() + 1, 0.0), out(p.size());
    for (std::size_t i = 0; i < p.size(); ++i) total[i + 1] = total[i] + p[i];
    for (int i = 0; i < size; ++i)
    {
        const int a = std::max(0, i - half), z = std::min(size, i + half + 1);
        out[static_cast<std::size_t>(i)] =
            (total[static_cast<std::size_t>(z)] - total[static_cast<std::size_t>(a)]) / (z - a);
    }
    return out;
}
} // namespace

ResponseMeter::ResponseMeter(const LagGrid& g)
    : grid(g), segment(static_cast<int>(attackSeconds * g.rate)), fourier(fastSize(g.count + 2 * segment)),
      half(std::max(1, static_cast<int>(smoothing * fourier.size() / g.rate)))
{
}

/// The smoothed power spectrum of a stretch, per sample, faded at both ends.
std::vector<double> ResponseMeter::power(std::span<const double> x, int from, int frames)
{
    copySegment(fourier.time(), x, from, frames, frames / 8, frames / 8);
    fourier.forward();
    std::vector<double> p(static_cast<std::size_t>(fourier.bins()));
    for (std::size_t k = 0; k < p.size(); ++k) p[k] = std::norm(fourier.spectrum()[k]) / frames;
    return smoothed(p, half);
}

ResponseMeter::Spectrum ResponseMeter::whitened(const std::vector<double>& noise, const std::vector<double>& signal)
{
    fourier.forward();
    const auto x = fourier.spectrum();
    std::vector<double> p(x.size());
    for (std::size_t k = 0; k < p.size(); ++k) p[k] = std::norm(x[k]);
    p = smoothed(p, half);
    Spectrum out(x.size());
    const double perBin = grid.rate / fourier.size();
    const auto last = std::min(out.size() - 1, static_cast<std::size_t>(highest / perBin));
    for (auto k = static_cast<std::size_t>(std::ceil(lowest / perBin)); k <= last; ++k)
    {
        const double coherence = std::max(0.0, 1.0 - noise[k] / std::max(signal[k], 1e-30));
        if (p[k] > 0.0) out[k] = x[k] * (coherence / std::sqrt(p[k]));
    }
    return out;
}

ResponseMeter::Spectrum ResponseMeter::ofSpot(std::span<const double> spot, int onset)
{
    const int lead = static_cast<int>(ahead * grid.rate);
    const auto noise = power(spot, onset - lead - segment, segment), signal = power(spot, onset - lead, segment);
    copySegment(fourier.time(), spot, onset - lead, segment, lead / 2, segment / 2);
    return whitened(noise, signal);
}

ResponseMeter::Spectrum ResponseMeter::ofRoom(std::span<const double> room, int onset)
{
    const int lead = static_cast<int>(ahead * grid.rate);
    const int origin = grid.noise + grid.back; // grid index of lag zero
    const auto noise = power(room, onset - origin, grid.noise);
    const auto signal = power(room, onset - lead, grid.count - origin); // from lag zero to the reach
    copySegment(fourier.time(), room, onset - lead - origin, grid.count + segment, grid.noise / 4, segment / 2);
    return whitened(noise, signal);
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
