#pragma once
#include "Core/Decision/Ownership.h"
#include "Core/Evidence/Evidence.h"

#include <algorithm>
#include <array>
#include <vector>

namespace tarry
{
/// Energy steps of all hits stacked over lag, in heights over the stack's own noise, and the lag they point at.
class StepStack
{
public:
    StepStack(const std::vector<const PairEvidence*>& hits, const Ownership& own, const LagGrid& grid);

    struct Mode
    {
        double lag = 0.0;    ///< s
        double height = 0.0; ///< 0: no hit shows any step
        double runnerUpLag = 0.0, runnerUpShare = 0.0;
    };
    [[nodiscard]] Mode mode() const;

    /// Adds other evidence to the heights, point by point, before a mode is asked for.
    void add(const std::vector<double>& heights);

    /// Heights over lag, one every PairEvidence::stride grid points, from grid index noise on.
    [[nodiscard]] const std::vector<double>& heights() const { return total; }

    /// Weight of each band of a hit, 0 to 1.
    [[nodiscard]] const std::array<double, bandCount>& bandWeights(std::size_t hit) const { return weights[hit]; }

    /// Largest weight that any band of the hit has, 0 to 1.
    [[nodiscard]] double weight(std::size_t hit) const
    {
        return *std::max_element(weights[hit].begin(), weights[hit].end());
    }

private:
    [[nodiscard]] double lagOf(double point) const;
    [[nodiscard]] double fineLag(std::size_t mode) const;

    LagGrid grid;
    std::vector<double> total;  // every band alike: finds the mode
    std::vector<double> fine;   // precise bands first: times it
    std::vector<double> attack; // the spot's own steps, stacked and weighted as `fine`
    std::vector<std::array<double, bandCount>> weights;
};
} // namespace tarry
