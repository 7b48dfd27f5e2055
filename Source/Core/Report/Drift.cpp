#include "Core/Report/Drift.h"

#include <algorithm>
#include <cmath>
#include <numeric>

namespace tarry
{
namespace
{
struct Line
{
    double time = 0.0, lag = 0.0; // s, its middle
    double slope = 0.0;           // s/s
    double slopeSd = 0.0;

    [[nodiscard]] double at(double when) const { return lag + slope * (when - time); }
};

/// Least squares. None where the points are too few or too close together to say anything.
std::optional<Line> fit(const std::vector<double>& times, const std::vector<double>& lags)
{
    constexpr std::size_t fewest = 6;
    constexpr double shortest = 10.0; // s
    if (times.size() < fewest) return std::nullopt;
    const auto [first, last] = std::minmax_element(times.begin(), times.end());
    if (*last - *first < shortest) return std::nullopt;
    const double n = static_cast<double>(times.size());
    Line line;
    line.time = std::accumulate(times.begin(), times.end(), 0.0) / n;
    line.lag = std::accumulate(lags.begin(), lags.end(), 0.0) / n;
    double tt = 0.0, tl = 0.0;
    for (std::size_t i = 0; i < times.size(); ++i)
    {
        tt += (times[i] - line.time) * (times[i] - line.time);
        tl += (times[i] - line.time) * (lags[i] - line.lag);
    }
    line.slope = tl / tt;
    double rest = 0.0;
    for (std::size_t i = 0; i < times.size(); ++i) rest += std::pow(lags[i] - line.at(times[i]), 2.0);
    line.slopeSd = std::sqrt(rest / (n - 2.0) / tt);
    return line;
}
} // namespace

std::optional<Drift> drift(const std::vector<double>& times, const std::vector<double>& lags)
{
    const auto line = fit(times, lags);
    if (!line) return std::nullopt;
    return Drift{line->slope * 1e6, line->slopeSd * 1e6};
}

std::optional<Drift> drift(const std::vector<double>& times, const std::vector<double>& lags, double agreedLag,
                           double falls)
{
    constexpr int rounds = 8; // each takes in what the last trend reaches; two or three are usual
    std::optional<Line> line;
    std::size_t taken = 0;
    for (int round = 0; round < rounds; ++round)
    {
        std::vector<double> when, what;
        for (std::size_t i = 0; i < times.size(); ++i)
        {
            if (std::abs(lags[i] - (line ? line->at(times[i]) : agreedLag)) > falls) continue;
            when.push_back(times[i]);
            what.push_back(lags[i]);
        }
        if (line && when.size() <= taken) break;
        taken = when.size();
        line = fit(when, what);
        if (!line) return std::nullopt;
    }
    return Drift{line->slope * 1e6, line->slopeSd * 1e6};
}

std::optional<double> driftThatMatters(const Drift& drift, double seconds, int hits)
{
    constexpr double matters = 0.5e-3; // s
    // Student's t that is as unlikely as three deviations of a normal distribution (Abramowitz & Stegun 26.7.5, from
    // memory): 6.0 for six hits, 3.4 for twenty.
    const double freedom = std::max(1, hits - 2);
    const double significant = 3.0 + 7.5 / freedom + 17.25 / (freedom * freedom);
    const double change = drift.ppm * 1e-6 * seconds;
    if (std::abs(change) <= matters || std::abs(drift.ppm) <= significant * drift.ppmSd) return std::nullopt;
    return change;
}
} // namespace tarry
