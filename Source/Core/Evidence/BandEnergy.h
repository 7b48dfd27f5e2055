#pragma once
#include "Core/Ground/Bands.h"

#include <span>
#include <vector>

namespace tarry
{
/// A signal's energy in one band, and by how much it steps up at each sample.
class BandEnergy
{
public:
    BandEnergy(std::span<const double> x, double rate, const Band& band);

    /// Natural log of the energy just after against just before sample i, both raised by `floor` (energy).
    [[nodiscard]] double step(int i, double floor) const;

    /// Mean energy of the 8 ms from sample i on.
    [[nodiscard]] double level(int i) const { return mean(i, i + longer); }

    /// Mean energy just after sample i.
    [[nodiscard]] double justAfter(int i) const { return mean(i, i + after); }

    /// Mean energy of `count` samples from sample i on.
    [[nodiscard]] double moment(int i, int count) const { return mean(i, i + count); }

    /// The energy that nine tenths of the signal stay below: its loud stretches.
    [[nodiscard]] double loud() const;

    [[nodiscard]] int longStretch() const { return longer; } ///< samples in 8 ms

private:
    [[nodiscard]] double mean(int from, int to) const;

    int after, before, longer; // samples
    std::vector<double> total; // running sum of squares: a stretch is a difference, cut off at the signal's ends
};
} // namespace tarry
