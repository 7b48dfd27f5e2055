#include "Core/Evidence/BandEnergy.h"

#include <algorithm>
#include <cmath>

namespace tarry
{
BandEnergy::BandEnergy(std::span<const double> x, double rate, const Band& band)
    : after(std::max(1, static_cast<int>(band.after() * rate))),
      before(std::max(1, static_cast<int>(band.before() * rate))), longer(static_cast<int>(0.008 * rate)),
      total(x.size() + 1, 0.0)
{
    BandFilter filter(band, rate);
    const double rest = x.empty() ? 0.0 : x[0]; // start from rest there, so that DC makes no step
    for (std::size_t i = 0; i < x.size(); ++i)
    {
        const double y = filter(x[i] - rest);
        total[i + 1] = total[i] + y * y;
    }
}

double BandEnergy::mean(int from, int to) const
{
    const int size = static_cast<int>(total.size()) - 1;
    const auto at = [&](int i) { return total[static_cast<std::size_t>(std::clamp(i, 0, size))]; };
    return std::max(0.0, at(to) - at(from)) / (to - from);
}

double BandEnergy::step(int i, double floor) const
{
    return std::log((mean(i, i + after) + floor) / (mean(i - before, i) + floor));
}

double BandEnergy::loud() const
{
    const int size = static_cast<int>(total.size()) - 1;
    std::vector<double> all;
    constexpr int apart = 8; // samples: the moments overlap, so most of them tell nothing new
    all.reserve(static_cast<std::size_t>(size / apart + 1));
    for (int i = 0; i < size; i += apart) all.push_back(justAfter(i));
    const auto at = all.begin() + static_cast<std::ptrdiff_t>(0.9 * static_cast<double>(all.size() - 1));
    std::nth_element(all.begin(), at, all.end());
    return *at;
}
} // namespace tarry
