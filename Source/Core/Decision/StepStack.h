#pragma once
#include "Core/Decision/Ownership.h"
#include "Core/Evidence/Evidence.h"

#include <vector>

namespace tarry
{
/// Energy steps of all hits stacked over lag, in heights over the stack's own noise.
class StepStack
{
public:
    StepStack(const std::vector<const PairEvidence*>& hits, const HitWeights& weights, const LagGrid& grid);

    struct Mode
    {
        double lag = 0.0;    ///< s
        double height = 0.0; ///< 0: no hit shows any step
        double runnerUpLag = 0.0, runnerUpShare = 0.0;
    };
    /// The earliest peak that comes near the largest.
    [[nodiscard]] Mode mode() const;
    /// Where the stack is highest within half a millisecond of a lag that somebody else proposes.
    [[nodiscard]] Mode modeNear(double lag) const;

    /// Heights over lag, one every PairEvidence::stride grid points, from grid index noise on.
    [[nodiscard]] const std::vector<double>& heights() const { return total; }

private:
    [[nodiscard]] Mode modeAt(std::size_t point) const;
    [[nodiscard]] bool isPeak(std::size_t point) const;
    [[nodiscard]] double lagOf(double point) const;
    [[nodiscard]] double fineLag(std::size_t mode) const;

    LagGrid grid;
    std::vector<double> total;  // every band alike: finds the mode
    std::vector<double> fine;   // precise bands first: times it
    std::vector<double> attack; // the spot's own steps, stacked and weighted as `fine`
};
} // namespace tarry
