#pragma once
#include "Core/Bands.h"

#include <span>
#include <vector>

namespace tarry
{
/// A signal's energy steps in one band, sample by sample.
struct StepCurve
{
    std::vector<float> step;  ///< natural log of energy just after against just before each sample
    std::vector<float> level; ///< mean energy of the 8 ms from each sample on
};

/// floor: the energy, as a share of the signal's loud stretches, below which nothing counts as a step.
[[nodiscard]] StepCurve energySteps(std::span<const double> x, double rate, const Band& band, double floor);
} // namespace tarry
