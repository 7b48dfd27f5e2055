#pragma once
#include "Core/Ground/Bands.h"

#include <algorithm>
#include <span>
#include <vector>

namespace tarry
{
/// A signal's energy in one band, and by how much it steps up at each sample.
class BandEnergy
{
public:
    BandEnergy() = default; ///< of silence

    /// Of all bands, which are filtered together. What is there is overwritten and its memory used again: it is much.
    static void measure(const std::array<BandEnergy*, bandCount>& all, std::span<const double> x, double rate);

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
    [[nodiscard]] double energy(int from, int to) const
    {
        const int size = static_cast<int>(total.size()) - 1;
        const auto at = [&](int i) { return total[static_cast<std::size_t>(std::clamp(i, 0, size))]; };
        return std::max(0.0, at(to) - at(from));
    }
    [[nodiscard]] double mean(int from, int to) const { return energy(from, to) / (to - from); }
    [[nodiscard]] double ratio(int i, double floor) const;

    int after = 1, before = 1, longer = 1; // samples
    std::vector<double> total{0.0}; // running sum of squares: a stretch is a difference, cut off at the signal's ends
};
} // namespace tarry
