#include "Core/Decision/Arrival.h"

#include "Core/Decision/AttackEdge.h"
#include "Core/Decision/ResponseSum.h"
#include "Core/Ground/Peaks.h"

#include <algorithm>
#include <cmath>

namespace tarry
{
namespace
{
// On 217 training pairs (made-up halls, recorded instruments, measured rooms, real kits) the earliest of the response's
// larger peaks, where the edges bear it out, takes the share within 0.1 ms from 0.64 to 0.82, 0.94 being within 0.5 ms.
constexpr double firstShare = 0.5;     // of the largest peak: what an early peak needs to be the arrival (0.3: 0.80)
constexpr double around = 0.0012;      // s around the edges' lag in which peaks are looked for
constexpr double borneOut = 0.0003;    // s from the edges' lag (0.2: 0.79, 0.5: 0.83 but real drums 0.71 for 0.79)
constexpr double clearEnough = 20.0;   // times the rms of what comes before any arrival (10 to 40: the same)
constexpr double copyClear = 6.0;      // the same, for a bare copy, which has but one peak
constexpr double leadOfCopy = 1.3;     // times anything else in the whole response, where a bare copy is thought of
constexpr double copyNear = 0.003;     // s around the steps' lag in which a bare copy's peak is believed
constexpr double sameLobe = 0.00012;   // s around a peak of the response that belong to it
constexpr std::size_t lowBands = 2;    // of four: up to 1 kHz
constexpr double byStepsOnly = 0.0002; // s by which a lag that the response has not refined may be off

/// s: the lag of the response's largest peak where nothing else in it, anywhere, comes near: the room may be a bare
/// copy of the spot, which has no reflection that could be louder than what arrives first.
std::optional<double> copyLag(double stepLag, const std::vector<double>& response, const LagGrid& grid)
{
    const int size = static_cast<int>(response.size());
    const auto magnitude = [&](int i) { return std::abs(response[static_cast<std::size_t>(i)]); };
    const int middle = (grid.noise + size) / 2;
    const int peak = largestNear(response, middle, size - middle);
    if (peak < 0) return std::nullopt;
    int guard = static_cast<int>(sameLobe * grid.rate);
    for (const int side : {-1, 1}) // its own lobe is as long as the band is narrow
        for (int i = peak; i > 0 && i + 1 < size && magnitude(i + side) < magnitude(i); i += side)
            guard = std::max(guard, std::abs(i - peak) + 1);
    const int next = largestNear(response, middle, size - middle, peak, guard);
    if (next >= 0 && magnitude(peak) < leadOfCopy * magnitude(next)) return std::nullopt;
    if (magnitude(peak) < copyClear * rms(response, grid.noise)) return std::nullopt;
    const double lag = grid.lag(peak + parabolicTop(response, peak));
    return std::abs(lag - stepLag) <= copyNear ? std::optional(lag) : std::nullopt;
}

int pointsOf(double seconds, const LagGrid& grid)
{
    return static_cast<int>(seconds * grid.rate);
}

/// The earliest of the response's larger peaks near `centre`, -1: there is none.
int earliestPeak(const std::vector<double>& response, int centre, const LagGrid& grid)
{
    const auto magnitude = [&](int i) { return std::abs(response[static_cast<std::size_t>(i)]); };
    const int half = pointsOf(around, grid), largest = largestNear(response, centre, half);
    for (int i = std::max(1, centre - half); i < largest; ++i)
        if (magnitude(i) >= firstShare * magnitude(largest) && magnitude(i) >= magnitude(i - 1) &&
            magnitude(i) > magnitude(i + 1))
            return i;
    return largest;
}

/// The response's peak may take over from the steps.
void consultResponse(Arrival& arrival, int peak, const std::vector<double>& response, double noise, const LagGrid& grid)
{
    if (peak < 0) return;
    arrival.responseLag = grid.lag(peak + parabolicTop(response, peak));
    arrival.responseClear = std::abs(response[static_cast<std::size_t>(peak)]) / (noise + 1e-12);
    arrival.refined = arrival.responseClear >= clearEnough && std::abs(arrival.responseLag - *arrival.lag) <= borneOut;
    if (arrival.refined) arrival.lag = arrival.responseLag;
}

/// The sign of the response below 1 kHz, where a lobe is longer than what parts of the drum differ by; where nothing is
/// heard there, of all of it.
Polarity polarityOf(const std::vector<double>& low, const std::vector<double>& all, double lag, const LagGrid& grid)
{
    constexpr double lobe = 0.0004; // s
    const int centre = static_cast<int>(std::lround(grid.index(lag))), half = static_cast<int>(lobe * grid.rate);
    double value = 0.0;
    for (const auto* response : {&low, &all})
        if (const int peak = largestNear(*response, centre, half); peak >= 0 && value == 0.0)
            value = (*response)[static_cast<std::size_t>(peak)];
    return value >= 0.0 ? Polarity::normal : Polarity::inverted;
}

/// The sign of each band's response at the arrival. It is clear where no value of the other sign nearby comes close,
/// and where it stands above what comes before any arrival: a narrow low band swings long, a high one quickly.
std::array<BandArrival, bandCount> askBands(const ResponseSum& response, const LagGrid& grid, const Arrival& arrival)
{
    const int centre = static_cast<int>(std::lround(grid.index(*arrival.lag)));
    std::array<BandArrival, bandCount> result;
    for (std::size_t b = 0; b < bandCount; ++b)
    {
        const std::vector<double>& sum = response.ofBand(b);
        // A quarter of a period of the band's middle to both sides holds the arrival's own lobe; a lag that only the
        // steps have timed may be farther off.
        const double middle = std::sqrt(bands[b].low * bands[b].high);
        const double reach = std::max(0.25 / middle, arrival.refined ? 0.0 : byStepsOnly);
        const int half = std::max(1, static_cast<int>(std::lround(reach * grid.rate)));
        double most = 0.0, least = 0.0;
        for (int i = std::max(0, centre - half); i <= std::min(grid.count - 1, centre + half); ++i)
        {
            most = std::max(most, sum[static_cast<std::size_t>(i)]);
            least = std::min(least, sum[static_cast<std::size_t>(i)]);
        }
        const double winner = std::max(most, -least), other = std::min(most, -least);
        if (winner <= 0.0) continue;
        result[b].polarity = most >= -least ? Polarity::normal : Polarity::inverted;
        result[b].clear = winner / std::max({other, response.noise(sum), 0.01 * winner});
    }
    return result;
}
/// What both ways have in common: `lag` is where the arrival is thought, `findPeak` picks the response's peak near it.
template <typename FindPeak>
Arrival arrivalNear(std::optional<double> lag, const StepStack::Mode& mode,
                    const std::vector<const PairEvidence*>& hits, const HitWeights& weights,
                    const std::vector<double>& whole, const LagGrid& grid, FindPeak findPeak)
{
    Arrival arrival;
    arrival.hits.resize(hits.size());
    arrival.stepLag = timeByEdges(hits, weights, grid, mode.lag);
    arrival.lag = lag.value_or(arrival.stepLag);
    arrival.height = mode.height;
    arrival.runnerUpLag = mode.runnerUpLag;
    arrival.runnerUpShare = mode.runnerUpShare;
    arrival.copyLag = copyLag(arrival.stepLag, whole, grid);
    const ResponseSum response(hits, weights, grid, *arrival.lag);
    const std::vector<double> all = response.ofLowest(bandCount);
    const int peak = findPeak(all, static_cast<int>(std::lround(grid.index(*arrival.lag))));
    consultResponse(arrival, peak, all, response.noise(all), grid);
    arrival.polarity = polarityOf(response.ofLowest(lowBands), all, *arrival.lag, grid);
    arrival.bands = askBands(response, grid, arrival);
    for (std::size_t h = 0; h < hits.size(); ++h)
        arrival.hits[h] = arrivalOf(*hits[h], weights[h], grid, {mode.lag, *arrival.lag, arrival.refined});
    return arrival;
}
} // namespace

Arrival arrivalAt(const StepStack::Mode& mode, const std::vector<const PairEvidence*>& hits, const HitWeights& weights,
                  const std::vector<double>& whole, const LagGrid& grid)
{
    if (mode.height <= 0.0)
    {
        Arrival none;
        none.hits.resize(hits.size());
        return none;
    }
    return arrivalNear({}, mode, hits, weights, whole, grid,
                       [&grid](const std::vector<double>& response, int centre)
                       { return earliestPeak(response, centre, grid); });
}

Arrival arrivalAtProposal(double proposed, const StepStack::Mode& mode, const std::vector<const PairEvidence*>& hits,
                          const HitWeights& weights, const std::vector<double>& whole, const LagGrid& grid)
{
    return arrivalNear(proposed, mode, hits, weights, whole, grid,
                       [&grid](const std::vector<double>& response, int centre)
                       { return largestNear(response, centre, pointsOf(borneOut, grid)); });
}
} // namespace tarry
