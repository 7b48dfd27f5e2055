#include "Core/Decision/AttackEdge.h"

#include "Core/Ground/Statistics.h"

#include <algorithm>
#include <cmath>
#include <optional>
#include <span>

namespace tarry
{
namespace
{
// s around the attack
constexpr double quietFrom = -BandEvidence::ahead, quietTo = -0.002; // what was there before
constexpr double seenFrom = -0.004, seenTo = 0.004;                  // the stretch that has to be there
constexpr double baseTo = -0.0015;                                   // from its beginning up to here it holds no attack
constexpr double topFrom = -0.001, topTo = 0.002;                    // up to its end the stretch is looked at
constexpr double loudTo = 0.003;

constexpr double leastRise = 4.0; // times the noise before: below, a hit shows no edge
constexpr double fullRise = 5.0;  // natural log of the rise from which a hit counts fully
constexpr double nearTop = 0.7;   // share of the way up at which the edge is found, to be followed down
// Share of the way up at which the edge is timed. Real drums within 0.1 ms at 0.1, 0.2, 0.3: 0.50, 0.79, 0.64.
constexpr double share = 0.2;
constexpr double plausible = 0.0005; // s from the steps' lag
constexpr std::size_t mostHits = 24;
constexpr double silence = 1e-20;

/// To a float's precision, as the energies are: half the time of a double's.
double logOf(double ratio)
{
    return static_cast<double>(std::log(static_cast<float>(ratio)));
}

/// One band's energy rising in spot and room: logs of the energies of 0.5 or 1 ms, stacked over hits. A value a step.
class EdgeStack
{
public:
    EdgeStack(const std::vector<const PairEvidence*>& hits, const HitWeights& weights, const LagGrid& lags,
              std::size_t band, int windows, double about)
        : grid(lags), arrival(static_cast<int>(std::lround(grid.index(about) / PairEvidence::stride)))
    {
        spot.assign(static_cast<std::size_t>(points(topTo) - points(seenFrom)), 0.0);
        room = spot;
        // The heaviest are enough: more would not time it any better, only later.
        std::vector<std::size_t> order;
        for (std::size_t h = 0; h < hits.size(); ++h)
            if (weights[h][band] > 0.0) order.push_back(h);
        const auto heavier = [&](std::size_t a, std::size_t b) { return weights[a][band] > weights[b][band]; };
        if (order.size() > mostHits)
        {
            std::nth_element(order.begin(), order.begin() + mostHits, order.end(), heavier);
            order.resize(mostHits);
            std::sort(order.begin(), order.end());
        }
        for (const std::size_t h : order) add(hits[h]->band[band], weights[h][band], windows);
    }

    /// s: how much later than the spot's the room's edge has risen by this share.
    [[nodiscard]] std::optional<double> lagAt(double part) const
    {
        if (weight <= 0.0) return std::nullopt;
        const auto ours = edge(spot, part), theirs = edge(room, part);
        if (!ours || !theirs) return std::nullopt;
        return grid.lag((arrival + *theirs - *ours) * PairEvidence::stride);
    }

private:
    [[nodiscard]] int points(double seconds) const { return stepsIn(seconds, grid); }

    /// Energies around an attack, index 0 at the attack itself.
    struct Around
    {
        const std::vector<float>& values;
        int attack, step, windows;

        [[nodiscard]] bool covers(int from, int to) const
        {
            return attack + from >= 0 && attack + to + step < static_cast<int>(values.size());
        }
        [[nodiscard]] double operator()(int i) const
        {
            const auto at = static_cast<std::size_t>(attack + i);
            const auto one = static_cast<double>(values[at]);
            return windows == 1 ? one : 0.5 * (one + static_cast<double>(values[at + static_cast<std::size_t>(step)]));
        }
        [[nodiscard]] double mean(int from, int to) const
        {
            double sum = 0.0;
            for (int i = from; i < to; ++i) sum += (*this)(i);
            return sum / (to - from);
        }
        [[nodiscard]] double largest(int from, int to) const
        {
            double most = 0.0;
            for (int i = from; i < to; ++i) most = std::max(most, (*this)(i));
            return most;
        }
    };

    void add(const BandEvidence& e, double w, int windows)
    {
        const int step = points(BandEvidence::moment);
        const Around ours{e.spotMoments, points(-quietFrom), step, windows},
            theirs{e.roomMoments, arrival, step, windows};
        const int from = points(quietFrom), to = points(seenTo);
        if (!ours.covers(from, to) || !theirs.covers(from, to)) return;
        const double quiet = theirs.mean(from, points(quietTo)), loud = theirs.largest(points(topFrom), points(loudTo));
        if (loud < leastRise * quiet) return;
        const double rise = std::log(loud / (quiet + silence));
        w *= std::min(1.0, rise / fullRise);
        // An attack in noise seems to begin later: the spot gets as much, against its loudest, as the room has.
        const double loudSpot = ours.largest(points(topFrom), points(loudTo));
        const double noise = std::max(0.0, loudSpot * std::exp(-rise) - ours.mean(from, points(quietTo)));
        const double perSpot = 1.0 / (loudSpot + silence), perRoom = 1.0 / (loud + silence);
        weight += w;
        for (std::size_t i = 0; i < spot.size(); ++i)
        {
            const int at = points(seenFrom) + static_cast<int>(i);
            spot[i] += w * logOf((ours(at) + noise + silence) * perSpot);
            room[i] += w * logOf((theirs(at) + silence) * perRoom);
        }
    }

    /// Points from the attack to where the curve has come up by `share` from its base to its top.
    [[nodiscard]] std::optional<double> edge(const std::vector<double>& curve, double part) const
    {
        const auto at = [&](double seconds) { return curve.begin() + points(seconds) - points(seenFrom); };
        const double base = quantile({curve.begin(), at(baseTo)}, 0.5), top = *std::max_element(at(topFrom), at(topTo));
        const auto level = [&](double way) { return base + way * (top - base); };
        auto i = std::find_if(at(baseTo), at(topTo), [&](double x) { return x >= level(nearTop); });
        if (i == at(topTo)) return std::nullopt;
        while (i != curve.begin() && *i >= level(part)) --i;
        if (*i >= level(part)) return std::nullopt;
        return static_cast<double>(i - at(0.0)) + (level(part) - i[0]) / (i[1] - i[0]);
    }

    LagGrid grid;
    int arrival;
    double weight = 0.0;
    std::vector<double> spot, room;
};
} // namespace

double timeByEdges(const std::vector<const PairEvidence*>& hits, const HitWeights& weights, const LagGrid& grid,
                   double stepLag)
{
    const EdgeStack middle(hits, weights, grid, 2, 1, stepLag), middleLong(hits, weights, grid, 2, 2, stepLag);
    const EdgeStack bright(hits, weights, grid, 3, 1, stepLag), brightLong(hits, weights, grid, 3, 2, stepLag);
    const auto near = [](const std::optional<double>& a, double b, double within)
    { return a && std::abs(*a - b) <= within; };
    std::vector<double> lags{stepLag};
    for (const EdgeStack* stacked : {&middle, &middleLong, &bright, &brightLong})
        if (const auto lag = stacked->lagAt(share); near(lag, stepLag, plausible)) lags.push_back(*lag);
    return quantile(lags, 0.5);
}
} // namespace tarry
