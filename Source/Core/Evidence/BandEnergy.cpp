#include "Core/Evidence/BandEnergy.h"

#include "Core/Ground/BandLanes.h"

#include <algorithm>
#include <cmath>

namespace tarry
{
namespace
{
/// The running sums of squares of what leaves the bands. Starts from rest at the signal's first value, so that DC makes
/// no step.
TARRY_ALSO_FOR_AVX
void sumSquares(const BandLanes::Filter& filter, const double* x, std::size_t count, double* const* totals) noexcept
{
    const BandLanes::Section high = filter[0], low = filter[1];
    BandLanes::Memory h, l;
    const double rest = x[0];
    Lanes sum{};
    for (std::size_t i = 0; i < count; ++i)
    {
        const double one = x[i] - rest;
        const Lanes in = {one, one, one, one};
        const Lanes y = high.b0 * in + h.s1;
        h.s1 = (high.b1 * in + h.s2) - high.a1 * y;
        h.s2 = high.b2 * in - high.a2 * y;
        const Lanes z = low.b0 * y + l.s1;
        l.s1 = (low.b1 * y + l.s2) - low.a1 * z;
        l.s2 = low.b2 * y - low.a2 * z;
        sum += z * z;
        for (std::size_t b = 0; b < bandCount; ++b) totals[b][i + 1] = sum[b];
    }
}
} // namespace

void BandEnergy::measure(const std::array<BandEnergy*, bandCount>& all, std::span<const double> x, double rate)
{
    std::array<double*, bandCount> totals{};
    for (std::size_t b = 0; b < bandCount; ++b)
    {
        BandEnergy& energy = *all[b];
        energy.after = std::max(1, static_cast<int>(bands[b].after() * rate));
        energy.before = std::max(1, static_cast<int>(bands[b].before() * rate));
        energy.longer = static_cast<int>(0.008 * rate);
        energy.total.resize(x.size() + 1); // the first stays 0
        totals[b] = energy.total.data();
    }
    if (!x.empty()) sumSquares(BandLanes::filter(rate), x.data(), x.size(), totals.data());
}

/// Of the mean just after sample i to that just before: multiplied out, for a division takes as long as all the rest.
double BandEnergy::ratio(int i, double floor) const
{
    return before * (energy(i, i + after) + floor * after) / (after * (energy(i - before, i) + floor * before));
}

double BandEnergy::step(int i, double floor) const
{
    return std::log(ratio(i, floor));
}

int BandEnergy::largestStep(int from, int to, double floor) const
{
    int best = from;
    double most = 0.0;
    for (int i = from; i < to; ++i)
        if (const double here = ratio(i, floor); here > most)
        {
            most = here;
            best = i;
        }
    return best;
}

std::vector<float> BandEnergy::steps(int from, int count, int stride, double floor) const
{
    std::vector<float> all;
    all.reserve(static_cast<std::size_t>(count / stride + 1));
    for (int i = from; i < from + count; i += stride)
        all.push_back(std::max(0.0F, std::log(static_cast<float>(ratio(i, floor)))));
    return all;
}

double BandEnergy::loud() const
{
    const int size = static_cast<int>(total.size()) - 1;
    std::vector<double> all;
    constexpr int apart = 8; // samples: the moments overlap, so most of them tell nothing new
    all.reserve(static_cast<std::size_t>(size / apart + 1));
    for (int i = 0; i < size; i += apart) all.push_back(energy(i, i + after));
    if (all.empty()) return 0.0;
    const auto at = all.begin() + static_cast<std::ptrdiff_t>(0.9 * static_cast<double>(all.size() - 1));
    std::nth_element(all.begin(), at, all.end());
    return *at / after;
}
} // namespace tarry
