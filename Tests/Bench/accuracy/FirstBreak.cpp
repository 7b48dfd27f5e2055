#include "Rivals.h"
#include "ScoreStatistics.h"

#include <algorithm>
#include <cmath>
#include <span>

namespace tarry::bench
{
namespace
{
/// Maeda's AIC(k) = k log var(x[0, k)) + (n - k - 1) log var(x[k, n)): least where the two stretches differ most.
std::size_t pick(std::span<const float> x)
{
    constexpr std::size_t margin = 8; // a variance needs a few samples
    const std::size_t n = x.size();
    if (n < 4 * margin) return 0;
    std::vector<double> sum(n + 1, 0.0), squares(n + 1, 0.0);
    for (std::size_t i = 0; i < n; ++i)
    {
        const double v = static_cast<double>(x[i]);
        sum[i + 1] = sum[i] + v;
        squares[i + 1] = squares[i] + v * v;
    }
    const auto logVariance = [&](std::size_t a, std::size_t z)
    {
        const auto count = static_cast<double>(z - a);
        const double mean = (sum[z] - sum[a]) / count;
        return std::log(std::max((squares[z] - squares[a]) / count - mean * mean, 1e-20));
    };
    std::size_t best = margin;
    double least = INFINITY;
    for (std::size_t k = margin; k + margin < n; ++k)
    {
        const double aic =
            static_cast<double>(k) * logVariance(0, k) + static_cast<double>(n - k - 1) * logVariance(k, n);
        if (aic < least)
        {
            least = aic;
            best = k;
        }
    }
    return best;
}

/// Samples where 1 ms of the spot holds 15 dB more energy than the 20 ms before it, within 40 dB of the loudest; at
/// least 50 ms apart.
std::vector<std::size_t> attacks(const std::vector<float>& spot, double rate)
{
    const auto ms = static_cast<std::size_t>(rate / 1000.0);
    std::vector<double> energy(spot.size() / ms, 0.0);
    for (std::size_t i = 0; i < energy.size() * ms; ++i)
        energy[i / ms] += static_cast<double>(spot[i]) * static_cast<double>(spot[i]);
    if (energy.size() < 100) return {};
    const double floor = 1e-4 * *std::max_element(energy.begin(), energy.end());

    std::vector<std::size_t> found;
    for (std::size_t i = 1; i < energy.size(); ++i)
    {
        const std::size_t past = std::min<std::size_t>(i, 20);
        double before = 0.0;
        for (std::size_t j = i - past; j < i; ++j) before += energy[j] / static_cast<double>(past);
        const bool apart = found.empty() || i * ms > found.back() + 50 * ms;
        if (energy[i] > floor && energy[i] > 31.6 * before && apart) found.push_back(i * ms);
    }
    return found;
}

/// First break in x[from, until), the stretch cut off just after its loudest sample as pickers' users do.
std::size_t breakWithin(const std::vector<float>& x, std::size_t from, std::size_t until, std::size_t tail)
{
    const auto quieter = [](float a, float b) { return std::abs(a) < std::abs(b); };
    const auto begin = x.begin() + static_cast<std::ptrdiff_t>(from);
    const auto end = x.begin() + static_cast<std::ptrdiff_t>(until);
    const auto loudest = static_cast<std::size_t>(std::max_element(begin, end, quieter) - x.begin());
    return from + pick(std::span(x).subspan(from, std::min(until, loudest + tail) - from));
}
} // namespace

Answer firstBreak(const Example& example)
{
    const auto& spot = example.spot.front();
    const auto& room = example.room[example.firstChannel];
    const double rate = example.settings.sampleRate;
    const auto samples = [rate](double seconds) { return static_cast<std::size_t>(seconds * rate); };

    std::vector<double> lags;
    for (const auto attack : attacks(spot, rate))
    {
        const std::size_t lead = samples(0.010 - example.earliest);
        const std::size_t last = attack + samples(0.010 + example.settings.reach);
        if (attack < lead || last > std::min(spot.size(), room.size())) continue;
        const auto there = breakWithin(spot, attack - samples(0.010), attack + samples(0.010), samples(0.001));
        const auto here = breakWithin(room, attack - lead, last, samples(0.001));
        lags.push_back((static_cast<double>(here) - static_cast<double>(there)) / rate);
    }
    if (lags.empty()) return {};
    return {quantile(lags, 0.5), std::nullopt};
}
} // namespace tarry::bench
