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

/// One band's steps, summed over hits.
struct BandStack
{
    BandStack(int points, int attackPoints)
        : sum(static_cast<std::size_t>(points), 0.0F), spot(static_cast<std::size_t>(attackPoints), 0.0)
    {
    }

    void add(const BandEvidence& e, double w)
    {
        weight += w;
        e.steps.addTo(sum, w);
        for (std::size_t i = 0; i < spot.size(); ++i) spot[i] += w * static_cast<double>(e.attack[i]);
    }

    /// From sums to heights: what comes before the earliest possible arrival is only noise, the yardstick.
    void toHeights(int noiseCount)
    {
        room.reserve(sum.size());
        for (const float x : sum) room.push_back(static_cast<double>(x) / weight);
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

    std::vector<float> sum; // of the room's steps: those are kept with 16 bits
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

StepStack::StepStack(const std::vector<const PairEvidence*>& hits, const HitWeights& weights, const LagGrid& lags)
    : grid(lags)
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
            if (weights[h][b] > 0.0) stack.add(hits[h]->band[b], weights[h][b]);
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

double StepStack::lagOf(double point) const
{
    return grid.lag(grid.noise + point * stride);
}

bool StepStack::isPeak(std::size_t i) const
{
    return total[i] > 0.0 && (i == 0 || total[i - 1] <= total[i]) &&
           (i + 1 == total.size() || total[i] >= total[i + 1]);
}

StepStack::Mode StepStack::mode() const
{
    const auto largest = std::max_element(total.begin(), total.end());
    const auto at = static_cast<std::size_t>(largest - total.begin());
    if (*largest <= 0.0) return {};
    for (std::size_t i = 0; i < at; ++i)
        if (total[i] >= early * *largest && isPeak(i)) return modeAt(i);
    return modeAt(at);
}

StepStack::Mode StepStack::modeNear(double lag) const
{
    const auto point = [&](double seconds)
    {
        const double at = (grid.index(seconds) - grid.noise) / stride;
        return static_cast<std::ptrdiff_t>(std::clamp(at, 0.0, static_cast<double>(total.size() - 1)));
    };
    const auto from = total.begin() + point(lag - 0.5 * nearby), to = total.begin() + point(lag + 0.5 * nearby) + 1;
    return modeAt(static_cast<std::size_t>(std::max_element(from, to) - total.begin()));
}

StepStack::Mode StepStack::modeAt(std::size_t at) const
{
    Mode result;
    result.height = total[at];
    result.lag = fineLag(at);
    double second = 0.0;
    for (std::size_t i = 0; i < total.size(); ++i)
        if (total[i] > second && isPeak(i) && std::abs(lagOf(static_cast<double>(i)) - result.lag) > nearby)
        {
            second = total[i];
            result.runnerUpLag = lagOf(static_cast<double>(i));
        }
    result.runnerUpShare = second / std::max(result.height, 1e-9);
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
