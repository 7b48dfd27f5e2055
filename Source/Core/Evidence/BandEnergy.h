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
    /// Of all bands, which are filtered together.
    [[nodiscard]] static std::array<BandEnergy, bandCount> ofAllBands(std::span<const double> x, double rate);

    BandEnergy() = default; ///< of silence

    /// Natural log of the energy just after against just before sample i, both raised by `floor` (energy).
    [[nodiscard]] double step(int i, double floor) const;

    /// The sample from `from` to before `to` at which the step is largest.
    [[nodiscard]] int largestStep(int from, int to, double floor) const;

    /// Steps at every `stride`-th of `count` samples from `from` on, never below 0, to a float's precision.
    [[nodiscard]] std::vector<float> steps(int from, int count, int stride, double floor) const;

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
    BandEnergy(const Band& band, double rate, std::vector<double> runningSum);
    [[nodiscard]] double mean(int from, int to) const;
    [[nodiscard]] double ratio(int i, double floor) const;

    int after = 1, before = 1, longer = 1; // samples
    std::vector<double> total{0.0}; // running sum of squares: a stretch is a difference, cut off at the signal's ends
};
} // namespace tarry
