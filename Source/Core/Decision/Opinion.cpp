#include "Core/Decision/Opinion.h"

#include "Core/Ground/Peaks.h"

#include <algorithm>
#include <cmath>

namespace tarry
{
namespace
{
constexpr double goesAlong = 0.0005;    // s around the agreed lag in which a hit's own step may lie
constexpr double alongShare = 0.5;      // and the share of its largest step that it has to reach there
constexpr double modeShare = 0.8;       // a hit's own first mode: this share of its largest step
constexpr double stillNear = 0.0006;    // s within which the hit's response may time it
constexpr double responseHalf = 0.0002; // s around the agreed lag in which the hit's response is asked

/// s: a hit's own lag, and where the step that it points at has its top. They differ where that lies farther off than
/// `goesAlong`, as when clocks drift.
struct OwnLag
{
    double lag, top;
};

/// Where the hit shows a good part of its largest step at the agreed lag it goes along: among reflections and what
/// still rings its own arrival need not be the largest. Else its own first mode.
std::optional<OwnLag> ownLag(const std::vector<double>& steps, const LagGrid& grid, double agreed)
{
    const auto first = static_cast<std::size_t>(grid.noise / PairEvidence::stride);
    if (steps.size() <= first + 2) return std::nullopt;
    const double top = *std::max_element(steps.begin() + static_cast<std::ptrdiff_t>(first), steps.end());
    if (top <= 0.0) return std::nullopt;
    const auto points = [&](double seconds)
    { return static_cast<std::ptrdiff_t>(seconds * grid.rate / PairEvidence::stride); };
    const auto centre = static_cast<std::ptrdiff_t>(grid.index(agreed) / PairEvidence::stride);
    const auto size = static_cast<std::ptrdiff_t>(steps.size());
    const auto near = std::max_element(steps.begin() + std::max<std::ptrdiff_t>(0, centre - points(goesAlong)),
                                       steps.begin() + std::min(size, centre + points(goesAlong) + 1));
    const auto lagAt = [&](auto at)
    { return grid.lag(static_cast<double>(at - steps.begin()) * PairEvidence::stride); };
    if (*near >= alongShare * top)
    {
        auto climbed = near;
        while (climbed + 1 != steps.end() && climbed[1] > *climbed) ++climbed;
        while (climbed != steps.begin() && climbed[-1] > *climbed) --climbed;
        return OwnLag{lagAt(near), lagAt(climbed)};
    }
    for (auto i = steps.begin() + static_cast<std::ptrdiff_t>(first) + 1; i + 1 != steps.end(); ++i)
        if (*i >= modeShare * top && i[-1] <= *i && *i >= i[1]) return OwnLag{lagAt(i), lagAt(i)};
    return std::nullopt;
}
} // namespace

HitOpinion opinionOf(const PairEvidence& hit, const std::array<double, bandCount>& weights, const LagGrid& grid,
                     const Settled& settled)
{
    HitOpinion opinion;
    opinion.weight = *std::max_element(weights.begin(), weights.end());
    // The steps' own mode is what a hit's steps are held against: edge or response may have timed it a little apart.
    if (const auto own = ownLag(hit.weightedSteps(weights), grid, settled.stepLag))
    {
        opinion.lag = own->lag + settled.lag - settled.stepLag;
        opinion.trendLag = own->top + settled.lag - settled.stepLag;
    }
    const std::vector<double> response = hit.weightedResponse(weights);
    const int half = static_cast<int>(responseHalf * grid.rate);
    const int peak = largestNear(response, static_cast<int>(std::lround(grid.index(settled.lag))), half);
    if (peak < 0) return opinion;
    const double value = response[static_cast<std::size_t>(peak)];
    opinion.polarity = value >= 0.0 ? Polarity::normal : Polarity::inverted;
    opinion.clearDb = 20.0 * std::log10((std::abs(value) + 1e-9) / (rms(response, grid.noise) + 1e-9));
    if (!settled.refined || !opinion.lag || std::abs(*opinion.lag - settled.lag) >= stillNear) return opinion;
    opinion.lag = grid.lag(peak + parabolicTop(response, peak));
    const int top = largestNear(response, static_cast<int>(std::lround(grid.index(opinion.trendLag))), half);
    opinion.trendLag = grid.lag(top + parabolicTop(response, top));
    return opinion;
}
} // namespace tarry
