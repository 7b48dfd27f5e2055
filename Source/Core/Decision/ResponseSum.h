#pragma once
#include "Core/Evidence/Evidence.h"

#include <vector>

namespace tarry
{
/// Points of the yardstick that a response's noise is taken from: the last 20 ms of it.
[[nodiscard]] inline int noiseHeard(const LagGrid& grid)
{
    return static_cast<int>(0.020 * grid.rate);
}

/// The responses of all hits, each band summed alone; only where it is asked for: at the end of the yardstick and
/// around one lag. What lies between is not worked out and reads as zero.
class ResponseSum
{
public:
    ResponseSum(const std::vector<const PairEvidence*>& hits, const std::vector<std::array<double, bandCount>>& weights,
                const LagGrid& grid, double around);

    /// Of the lowest `count` bands together, at the grid's indices.
    [[nodiscard]] std::vector<double> ofLowest(std::size_t count) const;
    [[nodiscard]] const std::vector<double>& ofBand(std::size_t band) const { return sums[band]; }
    /// Root mean square of what comes before any arrival.
    [[nodiscard]] double noise(const std::vector<double>& sum) const;

    static constexpr double halfWidth = 0.004; ///< s to both sides of the lag that are worked out

private:
    struct Stretch
    {
        int first = 0, end = 0;
    };
    LagGrid grid;
    std::array<Stretch, 2> worked{}; // the grid's points that are worked out
    std::array<std::vector<double>, bandCount> sums;
};
} // namespace tarry
