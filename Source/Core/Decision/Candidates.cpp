#include "Core/Decision/Candidates.h"

#include <algorithm>
#include <cmath>
#include <set>

namespace tarry
{
namespace
{
constexpr int stride = PairEvidence::stride;
constexpr double together = 0.0003; // s within which two proposals are one
constexpr double least = 0.2;       // of a curve's largest: lower peaks are not proposed
constexpr std::size_t largestPeaks = 3;
constexpr std::array earliest{0.5, 0.7, 0.8};
constexpr double sameLag = 0.00017; // s around a candidate that belongs to it
constexpr double speaksUp = 0.5;    // of the response's largest peak
constexpr double fullHeight = 5.0;  // natural log of 1 + height over the stack's noise
constexpr float explains = 0.8F;    // of a hit's largest evidence

using Curve = std::vector<double>; // a value a step point, from the earliest possible arrival on

std::vector<std::size_t> peaksOf(const Curve& x)
{
    std::vector<std::size_t> peaks;
    for (std::size_t i = 0; i < x.size(); ++i)
        if (x[i] >= least && (i == 0 || x[i - 1] < x[i]) && (i + 1 == x.size() || x[i] >= x[i + 1])) peaks.push_back(i);
    return peaks;
}

void propose(std::set<std::size_t>& points, const Curve& x)
{
    std::vector<std::size_t> peaks = peaksOf(x);
    for (const double share : earliest)
    {
        const auto first = std::find_if(peaks.begin(), peaks.end(), [&](std::size_t i) { return x[i] >= share; });
        if (first != peaks.end()) points.insert(*first);
    }
    const auto count = static_cast<std::ptrdiff_t>(std::min(largestPeaks, peaks.size()));
    std::partial_sort(peaks.begin(), peaks.begin() + count, peaks.end(),
                      [&](std::size_t a, std::size_t b) { return x[a] > x[b]; });
    points.insert(peaks.begin(), peaks.begin() + count);
}

Curve toLargest(Curve x)
{
    const double top = x.empty() ? 0.0 : *std::max_element(x.begin(), x.end());
    for (double& v : x) v = top > 0.0 ? v / top : 0.0;
    return x;
}

/// The response's magnitude, the largest within each step point.
Curve magnitude(const std::vector<double>& response, const LagGrid& grid, std::size_t points)
{
    Curve x(points, 0.0);
    for (int i = grid.noise; i < grid.count; ++i)
    {
        const auto cell = static_cast<std::size_t>((i - grid.noise + stride / 2) / stride);
        double& value = x[std::min(points - 1, cell)];
        value = std::max(value, std::abs(response[static_cast<std::size_t>(i)]));
    }
    return x;
}

/// 0 to 1: how far the response comes to a point. That of a drum that both microphones hear whole stands 13 times and
/// more over its rms; where they hear different parts of it, seven times, as chance does, and it says little.
double pointedness(const Curve& x)
{
    double energy = 0.0;
    for (const double v : x) energy += v * v;
    const double crest = energy > 0.0 ? 1.0 / std::sqrt(energy / static_cast<double>(x.size())) : 1.0;
    return std::clamp((std::log(crest) - std::log(5.0)) / (std::log(13.0) - std::log(5.0)), 0.0, 1.0);
}

double largest(const Curve& x, std::size_t from, std::size_t to)
{
    return from < to ? *std::max_element(x.begin() + static_cast<std::ptrdiff_t>(from),
                                         x.begin() + static_cast<std::ptrdiff_t>(to))
                     : 0.0;
}
} // namespace

std::vector<Candidate> nominate(const std::vector<const PairEvidence*>& hits, const std::vector<double>& owned,
                                const std::vector<double>& loud, const std::vector<double>& response,
                                const LagGrid& grid)
{
    const std::array<Curve, 3> curves{toLargest(magnitude(response, grid, owned.size())), toLargest(owned),
                                      toLargest(loud)};
    const double pointed = pointedness(curves[0]);
    std::set<std::size_t> points;
    for (const Curve& curve : curves) propose(points, curve);
    const auto apart = static_cast<std::size_t>(together * grid.rate / stride);
    const auto near = static_cast<std::size_t>(sameLag * grid.rate / stride);
    std::vector<Candidate> result;
    const std::size_t size = owned.size(), noise = static_cast<std::size_t>(grid.noise / stride);
    for (auto i = points.begin(); i != points.end();)
    {
        const std::size_t first = *i;
        std::size_t last = first;
        for (++i; i != points.end() && *i - last <= apart; ++i) last = *i;
        const std::size_t from = first > near ? first - near : 0, to = std::min(size, last + near + 1);
        // Where in the group it lies the finest kind says that speaks up: the response, else the steps by ownership.
        const Curve& finest = largest(curves[0], from, to) >= speaksUp ? curves[0] : curves[1];
        const auto at = [](std::size_t k) { return static_cast<std::ptrdiff_t>(k); };
        const auto best = static_cast<std::size_t>(
            std::max_element(finest.begin() + at(from), finest.begin() + at(to)) - finest.begin());
        double loudness = 0.0, explained = 0.0;
        for (const PairEvidence* hit : hits)
        {
            const double rise = hit->spotRise();
            loudness += rise;
            float step = 0.0F, answer = 0.0F;
            for (std::size_t k = noise + from; k < noise + to; ++k)
            {
                step = std::max(step, hit->steps[k]);
                answer = std::max(answer, hit->answer[k]);
            }
            if (step >= explains * hit->largestStep || answer >= explains * hit->largestAnswer) explained += rise;
        }
        Candidate candidate;
        candidate.lag = grid.lag(static_cast<double>(noise + best) * stride);
        const double stands = std::min(1.0, std::log1p(largest(owned, from, to)) / fullHeight);
        candidate.figures = {pointed * largest(curves[0], from, to),
                             largest(curves[1], from, to),
                             pointed * largest(curves[0], 0, from),
                             largest(curves[1], 0, from),
                             loudness > 0.0 ? explained / loudness : 0.0,
                             stands,
                             (1.0 - pointed) * stands};
        result.push_back(candidate);
    }
    return result;
}
} // namespace tarry
