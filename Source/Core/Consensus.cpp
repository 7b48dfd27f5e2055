#include "Core/Consensus.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numeric>

namespace tarry
{
namespace
{
constexpr double early = 0.8;    // the first mode at least this share of the largest wins
constexpr double ownMargin = 10; // dB below the most own hits at which a hit counts half
constexpr int stride = PairEvidence::stride;

double quantile(std::vector<double> x, double q)
{
    if (x.empty()) return 0.0;
    const double at = q * static_cast<double>(x.size() - 1);
    const auto i = static_cast<std::size_t>(at);
    std::nth_element(x.begin(), x.begin() + static_cast<std::ptrdiff_t>(i), x.end());
    const double low = x[i];
    if (i + 1 >= x.size()) return low;
    const double high = *std::min_element(x.begin() + static_cast<std::ptrdiff_t>(i) + 1, x.end());
    return low + (at - static_cast<double>(i)) * (high - low);
}

/// How much a hit's band counts: a clear step, far louder in the spot than in the room, in a quiet moment.
double weightOf(const BandEvidence& e, double mostOwn)
{
    if (!e.heard) return 0.0;
    const double clear = std::min(static_cast<double>(e.size), 6.0) / 6.0;
    const double own = 1.0 / (1.0 + std::exp(-(static_cast<double>(e.ownDb) - mostOwn + ownMargin) / 2.0));
    const double quiet = std::clamp(static_cast<double>(e.riseDb) / 12.0, 0.0, 1.0);
    const double w = clear * own * quiet;
    return w < 0.02 ? 0.0 : w;
}

struct Stack
{
    std::vector<double> values;
    double weight = 0.0;
};

/// The stack of steps turned into heights over its own noise, from grid index `noise` on.
void addHeights(std::vector<double>& total, const Stack& stack, int noiseCount)
{
    std::vector<double> noise(stack.values.begin(), stack.values.begin() + noiseCount);
    const double median = quantile(noise, 0.5);
    const double mean = std::accumulate(noise.begin(), noise.end(), 0.0) / noiseCount;
    double variance = 0.0;
    for (double x : noise) variance += (x - mean) * (x - mean);
    const double scale = std::sqrt(variance / noiseCount) + 0.05 + 0.3 / std::sqrt(stack.weight + 0.1);
    const double trust = std::sqrt(std::min(stack.weight, 8.0) / 8.0);
    for (std::size_t i = 0; i < total.size(); ++i)
        total[i] += trust * std::max(0.0, (stack.values[i + static_cast<std::size_t>(noiseCount)] - median) / scale);
}

/// Index of the earliest local maximum that reaches `share` of the largest value.
std::size_t firstMode(const std::vector<double>& x, double share)
{
    const double top = *std::max_element(x.begin(), x.end());
    for (std::size_t i = 1; i + 1 < x.size(); ++i)
        if (x[i] >= share * top && x[i - 1] <= x[i] && x[i] >= x[i + 1]) return i;
    return static_cast<std::size_t>(std::max_element(x.begin(), x.end()) - x.begin());
}
} // namespace

Agreed agree(const std::vector<const PairEvidence*>& hits, const LagGrid& grid)
{
    Agreed result;
    result.weight.assign(hits.size(), 0.0);
    result.ownLag.assign(hits.size(), std::numeric_limits<double>::quiet_NaN());
    const int noiseCount = grid.noise / stride;
    const int points = (grid.count + stride - 1) / stride;

    std::vector<double> own;
    for (const PairEvidence* hit : hits)
        for (const BandEvidence& e : hit->band)
            if (e.heard) own.push_back(static_cast<double>(e.ownDb));
    if (own.empty()) return result;
    const double mostOwn = quantile(own, 0.9);

    std::vector<double> total(static_cast<std::size_t>(points - noiseCount), 0.0);
    for (std::size_t b = 0; b < bandCount; ++b)
    {
        Stack stack{std::vector<double>(static_cast<std::size_t>(points), 0.0)};
        for (std::size_t h = 0; h < hits.size(); ++h)
        {
            const BandEvidence& e = hits[h]->band[b];
            const double w = weightOf(e, mostOwn);
            if (w <= 0.0) continue;
            result.weight[h] = std::max(result.weight[h], w);
            stack.weight += w;
            for (std::size_t i = 0; i < stack.values.size(); ++i)
                stack.values[i] += w * static_cast<double>(e.steps[i]);
        }
        if (stack.weight < 0.2) continue;
        for (double& x : stack.values) x /= stack.weight;
        addHeights(total, stack, noiseCount);
    }
    const double top = *std::max_element(total.begin(), total.end());
    if (top <= 0.0) return result;
    const std::size_t mode = firstMode(total, early);
    result.mode = grid.lag(static_cast<double>(grid.noise + static_cast<int>(mode) * stride));
    result.height = top;
    result.lag = result.mode;
    result.evidence.assign(total.begin(), total.end());
    for (float& x : result.evidence) x = static_cast<float>(static_cast<double>(x) / top);
    return result;
}
} // namespace tarry
