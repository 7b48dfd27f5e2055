#include "Core/Decision/CopyTiming.h"

#include "Core/Ground/Fourier.h"
#include "Core/Ground/Statistics.h"

#include <algorithm>
#include <cmath>
#include <complex>
#include <numbers>

namespace tarry
{
namespace
{
constexpr double ahead = 0.004, seconds = 0.080; // s of each hit: before its attack, and in all
constexpr double smoothing = 150.0;              // Hz to both sides over which coherence is taken
constexpr double lowest = 60.0, highest = 18000.0;
constexpr double copyFrom = 0.7;    // coherence, weighted by amplitude, that a hall does not come near
constexpr double aboveFloor = 1.5;  // times the median bin
constexpr double mostSure = 0.9999; // coherence beyond which a bin counts no more
constexpr double farthest = 0.0001; // s from the lag that was given
constexpr int rounds = 20;

using Spectrum = std::vector<std::complex<double>>;

Spectrum spectrumOf(Fourier& fourier, std::span<const float> x, int from, int count)
{
    const auto time = fourier.time();
    std::fill(time.begin(), time.end(), 0.0);
    const int fade = count / 16;
    for (int i = 0; i < count; ++i)
    {
        if (from + i < 0 || from + i >= static_cast<int>(x.size())) continue;
        const double edge = std::min({1.0, (i + 0.5) / fade, (count - i - 0.5) / fade});
        const double w = 0.5 - 0.5 * std::cos(std::numbers::pi * edge);
        time[static_cast<std::size_t>(i)] = w * static_cast<double>(x[static_cast<std::size_t>(from + i)]);
    }
    fourier.forward();
    return {fourier.spectrum().begin(), fourier.spectrum().end()};
}

/// Sums over the bins within `half` of each.
template <typename T>
std::vector<T> around(const std::vector<T>& x, std::size_t half)
{
    std::vector<T> total(x.size() + 1), sums(x.size());
    for (std::size_t k = 0; k < x.size(); ++k) total[k + 1] = total[k] + x[k];
    for (std::size_t k = 0; k < x.size(); ++k)
        sums[k] = total[std::min(x.size(), k + half + 1)] - total[k > half ? k - half : 0];
    return sums;
}
} // namespace

std::optional<double> timeCopy(const std::vector<BlendHit>& hits, double rate, double lag)
{
    const int count = static_cast<int>(seconds * rate), shift = static_cast<int>(std::lround(lag * rate));
    Fourier fourier(fastSize(count));
    const double perBin = 2.0 * std::numbers::pi * rate / fourier.size(); // rad/s
    Spectrum cross(static_cast<std::size_t>(fourier.bins()));
    std::vector<double> spot(cross.size()), room(cross.size());
    for (const BlendHit& hit : hits)
    {
        const int from = hit.onset - static_cast<int>(ahead * rate);
        const Spectrum s = spectrumOf(fourier, hit.spot, from, count);
        const Spectrum r = spectrumOf(fourier, hit.room, from + shift, count);
        for (std::size_t k = 0; k < cross.size(); ++k)
        {
            // Turned by what is known of the lag already, or coherence would be lost in smoothing.
            const double known = perBin * static_cast<double>(k) * (lag - shift / rate);
            cross[k] += r[k] * std::conj(s[k]) * std::polar(1.0, known);
            spot[k] += std::norm(s[k]);
            room[k] += std::norm(r[k]);
        }
    }
    const auto half = static_cast<std::size_t>(smoothing * fourier.size() / rate);
    const Spectrum smoothCross = around(cross, half);
    const std::vector<double> smoothSpot = around(spot, half), smoothRoom = around(room, half);
    std::vector<double> amplitudes(cross.size()), weight(cross.size(), 0.0);
    for (std::size_t k = 0; k < cross.size(); ++k) amplitudes[k] = std::sqrt(std::sqrt(spot[k] * room[k]));
    const double floor = aboveFloor * quantile(amplitudes, 0.5);
    double coherent = 0.0, all = 0.0;
    for (std::size_t k = 1; k < cross.size(); ++k)
    {
        const double hz = static_cast<double>(k) * rate / fourier.size();
        if (hz < lowest || hz > highest || smoothSpot[k] <= 0.0 || smoothRoom[k] <= 0.0) continue;
        const double coherence = std::min(mostSure, std::norm(smoothCross[k]) / (smoothSpot[k] * smoothRoom[k]));
        // By amplitude above the floor: energy would leave it to one ringing mode, a bin alone to what is only noise.
        const double amplitude = std::max(0.0, amplitudes[k] - floor);
        coherent += coherence * amplitude;
        all += amplitude;
        weight[k] = coherence / (1.0 - coherence) / std::sqrt(smoothSpot[k] * smoothRoom[k]);
    }
    if (all <= 0.0 || coherent < copyFrom * all) return std::nullopt;

    double towards = 0.0; // below 0: an inverted copy
    for (std::size_t k = 1; k < cross.size(); ++k) towards += weight[k] * cross[k].real();
    const double sign = towards < 0.0 ? -1.0 : 1.0;
    double extra = 0.0; // s; Newton's method on the likelihood
    for (int round = 0; round < rounds; ++round)
    {
        double slope = 0.0, bend = 0.0;
        for (std::size_t k = 1; k < cross.size(); ++k)
        {
            const double omega = perBin * static_cast<double>(k);
            const auto turned = weight[k] * cross[k] * std::polar(1.0, omega * extra);
            slope -= sign * omega * turned.imag();
            bend += sign * omega * omega * turned.real();
        }
        if (bend <= 0.0) return std::nullopt;
        extra += slope / bend;
    }
    return std::abs(extra) <= farthest ? std::optional(lag + extra) : std::nullopt;
}
} // namespace tarry
