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
    : grid(g), segment(static_cast<int>(attackSeconds * g.rate)), attack(fastSize(g.count + 2 * segment)),
      answer(attack.size())
{
}

std::vector<double> ResponseMeter::power(std::span<const double> x, int from, int frames)
{
    // The spectrum of a plain stretch, per sample, faded at both ends.
    copySegment(answer.time(), x, from, frames, frames / 8, frames / 8);
    answer.forward();
    std::vector<double> p(static_cast<std::size_t>(answer.bins()));
    for (std::size_t k = 0; k < p.size(); ++k) p[k] = std::norm(answer.spectrum()[k]) / frames;
    return p;
}

std::array<std::vector<float>, bandCount> ResponseMeter::measure(std::span<const double> spot,
                                                                 std::span<const double> room, int onset)
{
    const int lead = static_cast<int>(ahead * grid.rate);
    const int origin = grid.noise + grid.back; // grid index of lag zero
    const int half = std::max(1, static_cast<int>(smoothing * attack.size() / grid.rate));
    const int measured = grid.count - origin; // samples from lag zero to the reach

    const auto spotNoise = smoothed(power(spot, onset - lead - segment, segment), half);
    const auto spotSignal = smoothed(power(spot, onset - lead, segment), half);
    const auto roomNoise = smoothed(power(room, onset - origin, grid.noise), half);
    const auto roomSignal = smoothed(power(room, onset - lead, measured), half);

    copySegment(attack.time(), spot, onset - lead, segment, lead / 2, segment / 2);
    attack.forward();
    copySegment(answer.time(), room, onset - lead - origin, grid.count + segment, grid.noise / 4, segment / 2);
    answer.forward();

    auto s = attack.spectrum();
    auto r = answer.spectrum();
    std::vector<double> sp(s.size()), rp(r.size());
    for (std::size_t k = 0; k < s.size(); ++k)
    {
        sp[k] = std::norm(s[k]);
        rp[k] = std::norm(r[k]);
    }
    sp = smoothed(sp, half);
    rp = smoothed(rp, half);
    std::vector<std::complex<double>> cross(s.size());
    for (std::size_t k = 0; k < s.size(); ++k)
    {
        const double hz = static_cast<double>(k) * grid.rate / attack.size();
        const auto coherence = [](double signal, double noise)
        { return std::max(0.0, 1.0 - noise / std::max(signal, 1e-30)); };
        if (hz < lowest || hz > highest || sp[k] <= 0.0 || rp[k] <= 0.0) continue;
        const double w = coherence(spotSignal[k], spotNoise[k]) * coherence(roomSignal[k], roomNoise[k]);
        cross[k] = w * r[k] * std::conj(s[k]) / std::sqrt(sp[k] * rp[k]);
    }
    // A bare copy gives a peak of 2 * sum(w) / size; scale it to the share of the spectrum in use.
    const double scale = answer.size() / (2.0 * static_cast<double>(s.size()));
    std::array<std::vector<float>, bandCount> out;
    for (std::size_t b = 0; b < bandCount; ++b)
    {
        for (std::size_t k = 0; k < r.size(); ++k)
        {
            const double hz = static_cast<double>(k) * grid.rate / attack.size();
            const bool inside = (b == 0 || hz >= bands[b].low) && (b + 1 == bandCount || hz < bands[b].high);
            r[k] = inside ? cross[k] : 0.0;
        }
        answer.inverse();
        out[b].resize(static_cast<std::size_t>(grid.count));
        for (std::size_t i = 0; i < out[b].size(); ++i) out[b][i] = static_cast<float>(answer.time()[i] * scale);
    }
    return out;
}
} // namespace tarry
