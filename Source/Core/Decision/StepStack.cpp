#include "Core/Decision/StepStack.h"

#include "Core/Ground/Statistics.h"

#include <algorithm>
#include <cmath>
#include <numeric>

namespace tarry
{
namespace
{
constexpr int stride = PairEvidence::stride;
constexpr double early = 0.8;   // the first mode at least this share of the largest wins
constexpr double enough = 0.2;  // summed weight below which a band says nothing
constexpr double nearby = 1e-3; // s around a mode in which another is still the same
constexpr std::array<double, bandCount> precision{0.1, 0.3, 1.0, 1.0}; // a narrow low band times worse than a wide one

/// How much a hit's band counts: a clear step, in a quiet moment, the player's own.
double weightOf(const BandEvidence& e, double own)
{
    if (!e.heard) return 0.0;
    const double w = own * std::min(e.size, 6.0) / 6.0 * std::clamp(e.riseDb / 12.0, 0.0, 1.0);
    return w < 0.02 ? 0.0 : w;
}

/// One band's steps, summed over hits.
struct BandStack
{
    BandStack(int points, int attackPoints)
        : room(static_cast<std::size_t>(points), 0.0), spot(static_cast<std::size_t>(attackPoints), 0.0)
    {
    }

    void add(const BandEvidence& e, double w)
    {
        weight += w;
        for (std::size_t i = 0; i < room.size(); ++i) room[i] += w * static_cast<double>(e.steps[i]);
        for (std::size_t i = 0; i < spot.size(); ++i) spot[i] += w * static_cast<double>(e.attack[i]);
    }

    /// From sums to heights: what comes before the earliest possible arrival is only noise, the yardstick.
    void toHeights(int noiseCount)
    {
        for (double& x : room) x /= weight;
        const std::vector<double> noise(room.begin(), room.begin() + noiseCount);
        const double median = quantile(noise, 0.5);
        const double mean = std::accumulate(noise.begin(), noise.end(), 0.0) / noiseCount;
        double variance = 0.0;
        for (double x : noise) variance += (x - mean) * (x - mean);
        const double trust = std::sqrt(std::min(weight, 8.0) / 8.0);
        const double scale = trust / (std::sqrt(variance / noiseCount) + 0.05 + 0.3 / std::sqrt(weight + 0.1));
        for (double& x : room) x = std::max(0.0, (x - median) * scale);
        for (double& x : spot) x = x / weight * scale;
    }

    std::vector<double> room, spot;
    double weight = 0.0;
};

/// Where the curve, followed back from its largest value within `half` points of `at`, falls below half of that value.
double leadingEdge(const std::vector<double>& x, std::size_t at, std::ptrdiff_t half)
{
    const auto middle = static_cast<std::ptrdiff_t>(at);
    const auto last = static_cast<std::ptrdiff_t>(x.size()) - 1;
    auto peak = std::max_element(x.begin() + std::max<std::ptrdiff_t>(0, middle - half),
                                 x.begin() + std::min(last, middle + half) + 1);
    const double level = 0.5 * *peak;
    while (peak != x.begin() && *peak >= level) --peak;
    if (*peak >= level) return static_cast<double>(peak - x.begin());
    return static_cast<double>(peak - x.begin()) + (level - peak[0]) / (peak[1] - peak[0]);
}

/// Centre of the peak around `at`, `half` points to both sides; large values count most.
double centre(const std::vector<double>& x, std::size_t at, std::ptrdiff_t half)
{
    double moment = 0.0, sum = 0.0;
    const auto middle = static_cast<std::ptrdiff_t>(at);
    const auto last = std::min(static_cast<std::ptrdiff_t>(x.size()) - 1, middle + half);
    for (std::ptrdiff_t i = std::max<std::ptrdiff_t>(0, middle - half); i <= last; ++i)
    {
        const double w = std::pow(x[static_cast<std::size_t>(i)], 4.0);
        moment += w * static_cast<double>(i);
        sum += w;
    }
    return sum > 0.0 ? moment / sum : static_cast<double>(at);
}
} // namespace

StepStack::StepStack(const std::vector<const PairEvidence*>& hits, const Ownership& own, const LagGrid& lags)
    : grid(lags), weights(hits.size())
{
    const int noiseCount = grid.noise / stride;
    const int points = (grid.count + stride - 1) / stride;
    const int attackPoints = 2 * attackHalf(grid) / stride + 1;
    total.assign(static_cast<std::size_t>(points - noiseCount), 0.0);
    fine = total;
    attack.assign(static_cast<std::size_t>(attackPoints), 0.0);
    for (std::size_t b = 0; b < bandCount; ++b)
    {
        BandStack stack(points, attackPoints);
        for (std::size_t h = 0; h < hits.size(); ++h)
        {
            const BandEvidence& e = hits[h]->band[b];
            const double w = weightOf(e, own.ofBand(h, b, e.ownDb()));
            if (w <= 0.0) continue;
            weights[h][b] = w;
            stack.add(e, w);
        }
        if (stack.weight < enough) continue;
        stack.toHeights(noiseCount);
        for (std::size_t i = 0; i < total.size(); ++i)
        {
            const double height = stack.room[i + static_cast<std::size_t>(noiseCount)];
            total[i] += height;
            fine[i] += precision[b] * height;
        }
        for (std::size_t i = 0; i < attack.size(); ++i) attack[i] += precision[b] * stack.spot[i];
    }
}

void StepStack::add(const std::vector<double>& heights)
{
    for (std::size_t i = 0; i < total.size(); ++i) total[i] += heights[i];
}

double StepStack::lagOf(double point) const
{
    return grid.lag(grid.noise + point * stride);
}

StepStack::Mode StepStack::mode() const
{
    Mode result;
    const auto largest = std::max_element(total.begin(), total.end());
    if (*largest <= 0.0) return result;
    auto at = static_cast<std::size_t>(largest - total.begin());
    const auto isMode = [this](std::size_t i) { return total[i - 1] <= total[i] && total[i] >= total[i + 1]; };
    for (std::size_t i = 1; i < at; ++i)
        if (total[i] >= early * *largest && isMode(i)) at = i;
    result.height = total[at];
    result.lag = fineLag(at);
    double second = 0.0;
    for (std::size_t i = 1; i + 1 < total.size(); ++i)
        if (std::abs(lagOf(static_cast<double>(i)) - result.lag) > nearby && isMode(i) && total[i] > second)
        {
            second = total[i];
            result.runnerUpLag = lagOf(static_cast<double>(i));
        }
    result.runnerUpShare = second / result.height;
    return result;
}

/// Two ways to time the mode against the spot's own attack, the edge that leads up to it and its centre. On real drums
/// the one errs late and the other early where the attack comes in two stages; their mean does better than either.
double StepStack::fineLag(std::size_t mode) const
{
    const auto points = [this](double seconds) { return static_cast<std::ptrdiff_t>(seconds * grid.rate / stride); };
    const std::size_t middle = attack.size() / 2;
    const double edge = leadingEdge(fine, mode, points(0.0008)) - leadingEdge(attack, middle, points(0.0008));
    const double centres = centre(fine, mode, points(0.0005)) - centre(attack, middle, points(0.0005));
    return lagOf(0.5 * (edge + centres) + static_cast<double>(middle));
}
} // namespace tarry
