#include "Core/Drift.h"

#include <algorithm>
#include <cmath>
#include <numeric>

namespace tarry
{
std::optional<Drift> drift(const std::vector<double>& times, const std::vector<double>& lags)
{
    constexpr std::size_t fewest = 6;
    constexpr double shortest = 10.0; // s
    if (times.size() < fewest) return std::nullopt;
    const auto [first, last] = std::minmax_element(times.begin(), times.end());
    if (*last - *first < shortest) return std::nullopt;
    const double n = static_cast<double>(times.size());
    const double meanTime = std::accumulate(times.begin(), times.end(), 0.0) / n;
    const double meanLag = std::accumulate(lags.begin(), lags.end(), 0.0) / n;
    double tt = 0.0, tl = 0.0;
    for (std::size_t i = 0; i < times.size(); ++i)
    {
        tt += (times[i] - meanTime) * (times[i] - meanTime);
        tl += (times[i] - meanTime) * (lags[i] - meanLag);
    }
    const double slope = tl / tt;
    double rest = 0.0;
    for (std::size_t i = 0; i < times.size(); ++i)
    {
        const double away = lags[i] - meanLag - slope * (times[i] - meanTime);
        rest += away * away;
    }
    return Drift{slope * 1e6, std::sqrt(rest / (n - 2.0) / tt) * 1e6};
}

std::optional<double> driftThatMatters(const Drift& drift, double seconds)
{
    constexpr double matters = 0.5e-3;  // s
    constexpr double significant = 3.0; // standard deviations
    const double change = drift.ppm * 1e-6 * seconds;
    if (std::abs(change) <= matters || std::abs(drift.ppm) <= significant * drift.ppmSd) return std::nullopt;
    return change;
}
} // namespace tarry
