#include "Core/Decision/HitArrival.h"

#include "Core/Decision/Ownership.h"
#include "Core/Decision/ResponseSum.h"
#include "Core/Ground/Peaks.h"

#include <algorithm>
#include <cmath>

namespace tarry
{
namespace
{
constexpr double goesAlong = 0.0005;      // s around the agreed lag in which a hit's own step may lie
constexpr double alongShare = 0.5;        // and the share of its largest step that it has to reach there
constexpr double modeShare = 0.8;         // a hit's own first mode: this share of its largest step
constexpr double stillNear = 0.0006;      // s within which the hit's response may time it
constexpr double responseHalf = 0.0002;   // s around the agreed lag in which the hit's response is asked
constexpr double explainsWithin = 0.0003; // s around the found arrival in which it explains a hit

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
    const double top = largestOf(steps, first);
    if (top <= 0.0) return std::nullopt;
    const auto points = [&](double seconds)
    { return static_cast<std::ptrdiff_t>(seconds * grid.rate / PairEvidence::stride); };
    const auto size = static_cast<std::ptrdiff_t>(steps.size());
    const auto centre = static_cast<std::ptrdiff_t>(grid.index(agreed) / PairEvidence::stride);
    // The mode may lie at the grid's very end, and its finer lag beyond it.
    const auto within = [&](std::ptrdiff_t i) { return std::clamp<std::ptrdiff_t>(i, 0, size); };
    const auto from = within(std::min(centre - points(goesAlong), size - 1)),
               to = within(centre + points(goesAlong) + 1);
    const auto near = std::max_element(steps.begin() + from, steps.begin() + std::max(from + 1, to));
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

/// The largest of a hit's curve around a lag against its largest anywhere.
double shareAt(const std::vector<float>& curve, float largest, const LagGrid& grid, double lag, double within)
{
    if (curve.empty() || largest <= 0.0F) return 0.0;
    const auto cell = [&](double seconds)
    {
        const double at = std::round(grid.index(seconds) / PairEvidence::stride);
        return static_cast<std::ptrdiff_t>(std::clamp(at, 0.0, static_cast<double>(curve.size() - 1)));
    };
    const auto from = curve.begin() + cell(lag - within), to = curve.begin() + cell(lag + within) + 1;
    return std::min(1.0, static_cast<double>(*std::max_element(from, to) / largest));
}
} // namespace

HitArrival arrivalOf(const PairEvidence& hit, const std::array<double, bandCount>& weights, const LagGrid& grid,
                     const Timed& found)
{
    HitArrival arrival;
    arrival.weight = weightOf(weights);
    arrival.explained = std::max(shareAt(hit.steps, hit.largestStep, grid, found.stepLag, explainsWithin),
                                 shareAt(hit.answer, hit.largestAnswer, grid, found.lag, explainsWithin));
    // The steps' own mode is what a hit's steps are held against: edge or response may have timed it a little apart.
    if (const auto own = ownLag(hit.weightedSteps(weights), grid, found.stepLag))
    {
        arrival.lag = own->lag + found.lag - found.stepLag;
        arrival.trendLag = own->top + found.lag - found.stepLag;
    }
    const int half = static_cast<int>(responseHalf * grid.rate);
    const auto peakNear = [&](double lag, double& value)
    {
        const int centre = static_cast<int>(std::lround(grid.index(lag)));
        const int from = std::clamp(centre - half - 1, 0, grid.count),
                  to = std::clamp(centre + half + 2, from, grid.count);
        const std::vector<double> response = hit.weightedResponse(weights, from, to);
        const int peak = largestNear(response, centre - from, half);
        if (peak < 0) return lag;
        value = response[static_cast<std::size_t>(peak)];
        return grid.lag(from + peak + parabolicTop(response, peak));
    };
    double value = 0.0;
    const double peak = peakNear(found.lag, value);
    const std::vector<double> before = hit.weightedResponse(weights, grid.noise - noiseHeard(grid), grid.noise);
    arrival.polarity = value >= 0.0 ? Polarity::normal : Polarity::inverted;
    arrival.clearDb = 20.0 * std::log10((std::abs(value) + 1e-9) / (rms(before, noiseHeard(grid)) + 1e-9));
    if (!found.refined || !arrival.lag || std::abs(*arrival.lag - found.lag) >= stillNear) return arrival;
    arrival.lag = peak;
    arrival.trendLag = peakNear(arrival.trendLag, value);
    return arrival;
}
} // namespace tarry
