#pragma once
#include <algorithm>
#include <array>
#include <cmath>
#include <vector>

/// Peaks of a curve that is sampled at whole points.
namespace tarry
{
/// Root of the mean square of the first `count` points.
[[nodiscard]] inline double rms(const std::vector<double>& x, int count)
{
    double sum = 0.0;
    for (int i = 0; i < count; ++i) sum += x[static_cast<std::size_t>(i)] * x[static_cast<std::size_t>(i)];
    return std::sqrt(sum / count);
}

/// The largest of a curve's values from point `from` on; `least` where there is none that is larger. Eight at a time:
/// one after the other takes four times as long.
template <typename Number>
[[nodiscard]] Number largestOf(const std::vector<Number>& x, std::size_t from = 0, Number least = 0)
{
    std::array<Number, 8> most{};
    most.fill(least);
    std::size_t i = from;
    for (; i + most.size() <= x.size(); i += most.size())
        for (std::size_t k = 0; k < most.size(); ++k) most[k] = x[i + k] > most[k] ? x[i + k] : most[k];
    for (; i < x.size(); ++i) most[0] = std::max(most[0], x[i]);
    return *std::max_element(most.begin(), most.end());
}

/// Index of the largest magnitude within `half` of `at`, leaving out what is closer than `guard` to `apart`; -1 where
/// nothing is left. Never the first or the last point.
[[nodiscard]] inline int largestNear(const std::vector<double>& x, int at, int half, int apart = -1, int guard = 0)
{
    int best = -1;
    for (int i = std::max(1, at - half); i <= std::min(static_cast<int>(x.size()) - 2, at + half); ++i)
    {
        if (apart >= 0 && std::abs(i - apart) <= guard) continue;
        if (best < 0 || std::abs(x[static_cast<std::size_t>(i)]) > std::abs(x[static_cast<std::size_t>(best)]))
            best = i;
    }
    return best;
}

/// The top of a parabola through a peak and its neighbours, in points from the peak.
[[nodiscard]] inline double parabolicTop(const std::vector<double>& x, int at)
{
    const auto k = static_cast<std::size_t>(at);
    const double bend = x[k - 1] - 2.0 * x[k] + x[k + 1];
    return bend == 0.0 ? 0.0 : std::clamp(0.5 * (x[k - 1] - x[k + 1]) / bend, -0.5, 0.5);
}
} // namespace tarry
