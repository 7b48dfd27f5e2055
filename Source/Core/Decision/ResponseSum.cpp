#include "Core/Decision/ResponseSum.h"

#include <algorithm>
#include <cmath>
#include <span>

namespace tarry
{
ResponseSum::ResponseSum(const std::vector<const PairEvidence*>& hits,
                         const std::vector<std::array<double, bandCount>>& weights, const LagGrid& lags, double around)
    : grid(lags)
{
    const int centre = static_cast<int>(std::lround(grid.index(around))),
              half = static_cast<int>(halfWidth * grid.rate);
    const int from = std::clamp(centre - half, grid.noise, grid.count),
              to = std::clamp(centre + half, from, grid.count);
    worked = {{{grid.noise - noiseHeard(grid), grid.noise}, {from, to}}};
    for (std::size_t b = 0; b < bandCount; ++b)
    {
        std::vector<double>& sum = sums[b];
        sum.assign(static_cast<std::size_t>(grid.count), 0.0);
        for (std::size_t h = 0; h < hits.size(); ++h)
        {
            const double w = weights[h][b];
            if (w <= 0.0) continue;
            for (const auto& [first, last] : worked)
            {
                const auto at = static_cast<std::size_t>(first), count = static_cast<std::size_t>(last - first);
                hits[h]->response[b].addTo(std::span(sum).subspan(at, count), w, at);
            }
        }
    }
}

std::vector<double> ResponseSum::ofLowest(std::size_t count) const
{
    std::vector<double> total = sums[0];
    for (std::size_t b = 1; b < count; ++b)
        for (const auto& [first, last] : worked)
            for (auto i = static_cast<std::size_t>(first); i < static_cast<std::size_t>(last); ++i)
                total[i] += sums[b][i];
    return total;
}

double ResponseSum::noise(const std::vector<double>& sum) const
{
    double energy = 0.0;
    for (int i = grid.noise - noiseHeard(grid); i < grid.noise; ++i)
        energy += sum[static_cast<std::size_t>(i)] * sum[static_cast<std::size_t>(i)];
    return std::sqrt(energy / noiseHeard(grid));
}
} // namespace tarry
