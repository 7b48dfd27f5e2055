#pragma once
#include <algorithm>
#include <cmath>
#include <vector>

namespace tarry
{
/// The value below which a share q (0 to 1) of x lies, interpolated; 0 for an empty x.
[[nodiscard]] inline double quantile(std::vector<double> x, double q)
{
    if (x.empty()) return 0.0;
    const double at = q * static_cast<double>(x.size() - 1);
    const auto i = static_cast<std::ptrdiff_t>(at);
    std::nth_element(x.begin(), x.begin() + i, x.end());
    const double low = x[static_cast<std::size_t>(i)];
    if (i + 1 >= static_cast<std::ptrdiff_t>(x.size())) return low;
    return low + (at - static_cast<double>(i)) * (*std::min_element(x.begin() + i + 1, x.end()) - low);
}

/// Robust standard deviation: 1.4826 times the median distance from the median. 0 below two values.
[[nodiscard]] inline double robustDeviation(const std::vector<double>& x)
{
    const double middle = quantile(x, 0.5);
    std::vector<double> away;
    away.reserve(x.size());
    for (double v : x) away.push_back(std::abs(v - middle));
    return 1.4826 * quantile(away, 0.5);
}
} // namespace tarry
