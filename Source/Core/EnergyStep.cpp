#include "Core/EnergyStep.h"

#include <algorithm>
#include <cmath>

namespace tarry
{
namespace
{
/// Sums of a stretch from running totals, cut off at the ends of the signal.
class RunningEnergy
{
public:
    RunningEnergy(std::span<const double> x, BandFilter filter) : total(x.size() + 1, 0.0)
    {
        const double rest = x.empty() ? 0.0 : x[0]; // start from rest there, so that DC and hum make no step
        for (std::size_t i = 0; i < x.size(); ++i)
        {
            const double y = filter(x[i] - rest);
            total[i + 1] = total[i] + y * y;
        }
    }
    [[nodiscard]] double mean(int from, int to) const
    {
        const int size = static_cast<int>(total.size()) - 1;
        const auto at = [&](int i) { return total[static_cast<std::size_t>(std::clamp(i, 0, size))]; };
        return std::max(0.0, at(to) - at(from)) / (to - from);
    }

private:
    std::vector<double> total;
};
} // namespace

StepCurve energySteps(std::span<const double> x, double rate, const Band& band, double floor)
{
    const int size = static_cast<int>(x.size());
    const int after = std::max(1, static_cast<int>(band.after() * rate));
    const int before = std::max(1, static_cast<int>(band.before() * rate));
    const int longer = static_cast<int>(0.008 * rate);
    const RunningEnergy energy(x, BandFilter(band, rate));

    std::vector<double> next(x.size());
    for (int i = 0; i < size; ++i) next[static_cast<std::size_t>(i)] = energy.mean(i, i + after);
    std::vector<double> sorted(next);
    const auto loud = sorted.begin() + static_cast<std::ptrdiff_t>(0.9 * static_cast<double>(sorted.size() - 1));
    std::nth_element(sorted.begin(), loud, sorted.end());
    const double least = *loud * floor + 1e-16;

    StepCurve curve;
    curve.step.resize(x.size());
    curve.level.resize(x.size());
    for (int i = 0; i < size; ++i)
    {
        const auto k = static_cast<std::size_t>(i);
        curve.step[k] = static_cast<float>(std::log((next[k] + least) / (energy.mean(i - before, i) + least)));
        curve.level[k] = static_cast<float>(energy.mean(i, i + longer));
    }
    return curve;
}
} // namespace tarry
