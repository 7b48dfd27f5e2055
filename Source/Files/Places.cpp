#include "Files/Places.h"

#include "Core/Ground/Statistics.h"

#include <algorithm>
#include <cmath>

namespace tarry
{
namespace
{
constexpr std::size_t fewest = 3; // hits on either side of a move
constexpr double mostly = 0.8;    // of the hits of a side fall with its lag

double medianOf(std::vector<double> values)
{
    return quantile(std::move(values), 0.5);
}

struct Side
{
    double lag = 0.0;  // s
    double rest = 0.0; // s, sum of the distances from it
    bool together = false;
};

Side sideOf(const std::vector<TimedLag>& hits, std::size_t from, std::size_t end)
{
    std::vector<double> lags;
    for (std::size_t i = from; i < end; ++i) lags.push_back(hits[i].lag);
    Side side;
    side.lag = medianOf(lags);
    std::size_t near = 0;
    for (const double lag : lags)
    {
        side.rest += std::abs(lag - side.lag);
        near += std::abs(lag - side.lag) <= samePlace ? 1U : 0U;
    }
    side.together = static_cast<double>(near) >= mostly * static_cast<double>(lags.size());
    return side;
}

/// The same distances about a straight line through the medians of both halves: what a drift leaves.
double restAboutLine(const std::vector<TimedLag>& hits)
{
    const std::size_t half = hits.size() / 2;
    const auto middle = [&](std::size_t from, std::size_t end, double TimedLag::*what)
    {
        std::vector<double> values;
        for (std::size_t i = from; i < end; ++i) values.push_back(hits[i].*what);
        return medianOf(values);
    };
    const double early = middle(0, half, &TimedLag::time), late = middle(half, hits.size(), &TimedLag::time);
    const double before = middle(0, half, &TimedLag::lag), after = middle(half, hits.size(), &TimedLag::lag);
    const double slope = late > early ? (after - before) / (late - early) : 0.0;
    double rest = 0.0;
    for (const auto& hit : hits) rest += std::abs(hit.lag - before - slope * (hit.time - early));
    return rest;
}
} // namespace

std::vector<std::size_t> placesOf(const std::vector<std::optional<double>>& lags)
{
    std::vector<std::vector<double>> places;
    std::vector<std::size_t> result;
    std::size_t now = 0;
    for (const auto& lag : lags)
    {
        if (lag)
        {
            double nearest = samePlace;
            std::size_t found = places.size();
            for (std::size_t i = 0; i < places.size(); ++i)
                if (const double apart = std::abs(*lag - medianOf(places[i])); apart <= nearest)
                {
                    nearest = apart;
                    found = i;
                }
            if (found == places.size()) places.emplace_back();
            places[found].push_back(*lag);
            now = found;
        }
        result.push_back(now);
    }
    return result;
}

std::optional<StepWithin> stepWithin(const std::vector<TimedLag>& hits)
{
    std::optional<StepWithin> best;
    double least = hits.size() >= 2 * fewest ? 0.5 * restAboutLine(hits) : 0.0; // s
    for (std::size_t at = fewest; at + fewest <= hits.size(); ++at)
    {
        const Side before = sideOf(hits, 0, at), after = sideOf(hits, at, hits.size());
        if (!before.together || !after.together || std::abs(after.lag - before.lag) <= samePlace) continue;
        if (before.rest + after.rest >= least) continue;
        least = before.rest + after.rest;
        best = StepWithin{hits[at].time, before.lag, after.lag};
    }
    return best;
}
} // namespace tarry
