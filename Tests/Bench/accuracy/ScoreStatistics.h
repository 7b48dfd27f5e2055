#pragma once
#include <algorithm>
#include <cmath>
#include <limits>
#include <vector>

namespace tarry::bench
{
/// The q-quantile, between the two values around it; NaN of nothing.
[[nodiscard]] inline double quantile(std::vector<double> values, double q)
{
    if (values.empty()) return std::numeric_limits<double>::quiet_NaN();
    std::sort(values.begin(), values.end());
    const double place = q * static_cast<double>(values.size() - 1);
    const auto below = static_cast<std::size_t>(place);
    const auto above = std::min(below + 1, values.size() - 1);
    return std::lerp(values[below], values[above], place - static_cast<double>(below));
}

[[nodiscard]] inline double rootMeanSquare(const std::vector<double>& values)
{
    if (values.empty()) return std::numeric_limits<double>::quiet_NaN();
    double sum = 0.0;
    for (const double v : values) sum += v * v;
    return std::sqrt(sum / static_cast<double>(values.size()));
}

/// a / b, 0 where b is 0.
[[nodiscard]] inline double shareOf(int a, int b)
{
    return b > 0 ? static_cast<double>(a) / b : 0.0;
}
} // namespace tarry::bench
