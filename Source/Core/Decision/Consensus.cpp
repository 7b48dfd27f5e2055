#include "Core/Decision/Consensus.h"

#include "Core/Decision/AttackEdge.h"
#include "Core/Decision/Ownership.h"
#include "Core/Decision/StepStack.h"
#include "Core/Ground/Peaks.h"
#include "Core/Ground/Statistics.h"

#include <algorithm>
#include <cmath>

namespace tarry
{
namespace
{
constexpr double believed = 0.0005;    // s around the steps' lag in which the response is believed
constexpr double clearEnough = 6.0;    // times the rms of what comes before any arrival
constexpr double leadEnough = 2.0;     // times the next largest value within a millisecond
constexpr double leadMore = 40.0;      // and so much more where it lies as far as `believed` from the steps' lag
constexpr double leadGated = 0.5;      // the same where the spot is gated: the steps know less
constexpr double leadOfCopy = 1.3;     // times anything else in the whole response, where a bare copy is thought of
constexpr double copyNear = 0.003;     // s around the steps' lag in which a bare copy's peak is believed
constexpr double responseSays = 4.0;   // height that a response twice as large as its crowd adds to the steps'
constexpr double sameLobe = 0.00012;   // s around a peak of the response that belong to it
constexpr std::size_t lowBands = 2;    // of four: up to 1 kHz
constexpr double byStepsOnly = 0.0002; // s by which a lag that the response has not refined may be off

/// The responses of all hits, summed; of all bands, or of the lowest `bandsUsed`.
std::vector<double> stackedResponse(const std::vector<const PairEvidence*>& hits, const StepStack& stack,
                                    const LagGrid& grid, std::size_t bandsUsed = bandCount)
{
    std::vector<double> sum(static_cast<std::size_t>(grid.count), 0.0);
    for (std::size_t h = 0; h < hits.size(); ++h)
    {
        if (stack.weight(h) <= 0.0) continue;
        std::array<double, bandCount> weights = stack.bandWeights(h);
        std::fill(weights.begin() + static_cast<std::ptrdiff_t>(bandsUsed), weights.end(), 0.0);
        const std::vector<double> one = hits[h]->weightedResponse(weights);
        for (std::size_t i = 0; i < sum.size(); ++i) sum[i] += one[i];
    }
    return sum;
}

/// How far the response stands above its own crowd, as heights that can be added to the steps'.
std::vector<double> responseHeights(const std::vector<double>& response, const LagGrid& grid, std::size_t points)
{
    std::vector<double> size;
    for (std::size_t i = static_cast<std::size_t>(grid.noise); i < response.size(); ++i)
        size.push_back(std::abs(response[i]));
    const double crowd = quantile(size, 0.95) + 1e-12;
    const int half = static_cast<int>(0.00015 * grid.rate);
    std::vector<double> heights(points, 0.0);
    for (std::size_t i = 0; i < points; ++i)
    {
        const int at = static_cast<int>(i) * PairEvidence::stride;
        double top = 0.0;
        for (int k = std::max(0, at - half); k <= std::min(static_cast<int>(size.size()) - 1, at + half); ++k)
            top = std::max(top, size[static_cast<std::size_t>(k)]);
        heights[i] = responseSays * std::clamp(top / crowd - 1.0, 0.0, 4.0);
    }
    return heights;
}

/// Does a gate open late into most attacks? Then the spot's edge is the gate's, while its response still holds.
bool isGated(const std::vector<const PairEvidence*>& hits, const StepStack& stack)
{
    double gated = 0.0, all = 0.0;
    for (std::size_t h = 0; h < hits.size(); ++h)
    {
        const BandEvidence& brightest = hits[h]->band.back();
        all += stack.bandWeights(h).back();
        gated += brightest.fromSilence ? stack.bandWeights(h).back() : 0.0;
    }
    return gated > 0.5 * all;
}

/// s: the lag of the response's largest peak where nothing else in it, anywhere, comes near: the room may be a bare
/// copy of the spot, which has no reflection that could be louder than what arrives first.
std::optional<double> copyLag(const Agreed& agreed, const std::vector<double>& response, const LagGrid& grid)
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
    if (magnitude(peak) < clearEnough * rms(response, grid.noise)) return std::nullopt;
    const double lag = grid.lag(peak + parabolicTop(response, peak));
    return std::abs(lag - agreed.stepLag) <= copyNear ? std::optional(lag) : std::nullopt;
}

void consultResponse(Agreed& agreed, const std::vector<double>& response, const LagGrid& grid, bool gated)
{
    const auto points = [&](double seconds) { return static_cast<int>(seconds * grid.rate); };
    const int centre = static_cast<int>(std::lround(grid.index(agreed.stepLag)));
    // A gate makes the spot's edge late, so that the steps' lag comes out too short.
    const int shift = gated ? points(0.5 * believed) : 0;
    const int peak = largestNear(response, centre + shift, points(believed) - shift);
    if (peak < 0) return;
    const double height = std::abs(response[static_cast<std::size_t>(peak)]);
    const int next = largestNear(response, centre, points(0.001), peak, points(sameLobe));
    agreed.responseLag = grid.lag(peak + parabolicTop(response, peak));
    agreed.responseClear = height / (rms(response, grid.noise) + 1e-12);
    agreed.responseLead = next < 0 ? 10.0 : height / (std::abs(response[static_cast<std::size_t>(next)]) + 1e-12);
    const double apart = (agreed.responseLag - agreed.stepLag) / believed;
    const double lead = gated ? leadGated : leadEnough + leadMore * std::abs(apart * apart * apart);
    agreed.refined = agreed.responseClear >= clearEnough && agreed.responseLead >= lead;
    if (agreed.refined) agreed.lag = agreed.responseLag;
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
std::array<BandOpinion, bandCount> askBands(const std::vector<const PairEvidence*>& hits, const StepStack& stack,
                                            const LagGrid& grid, const Agreed& agreed)
{
    const int centre = static_cast<int>(std::lround(grid.index(*agreed.lag)));
    std::array<BandOpinion, bandCount> opinions;
    for (std::size_t b = 0; b < bandCount; ++b)
    {
        std::vector<double> sum(static_cast<std::size_t>(grid.count), 0.0);
        for (std::size_t h = 0; h < hits.size(); ++h)
            for (std::size_t i = 0; i < sum.size(); ++i)
                sum[i] += stack.bandWeights(h)[b] * static_cast<double>(hits[h]->response[b][i]);
        // A quarter of a period of the band's middle to both sides holds the arrival's own lobe; a lag that only the
        // steps have timed may be farther off.
        const double middle = std::sqrt(bands[b].low * bands[b].high);
        const int half = std::max(
            1, static_cast<int>(std::lround(std::max(0.25 / middle, agreed.refined ? 0.0 : byStepsOnly) * grid.rate)));
        double most = 0.0, least = 0.0;
        for (int i = std::max(0, centre - half); i <= std::min(grid.count - 1, centre + half); ++i)
        {
            most = std::max(most, sum[static_cast<std::size_t>(i)]);
            least = std::min(least, sum[static_cast<std::size_t>(i)]);
        }
        const double winner = std::max(most, -least), other = std::min(most, -least);
        if (winner <= 0.0) continue;
        opinions[b].polarity = most >= -least ? Polarity::normal : Polarity::inverted;
        opinions[b].clear = winner / std::max({other, rms(sum, grid.noise), 0.01 * winner});
    }
    return opinions;
}

} // namespace

Agreed agree(const std::vector<const PairEvidence*>& hits, const LagGrid& grid, bool clap)
{
    Agreed agreed;
    agreed.hits.resize(hits.size());
    if (hits.empty()) return agreed;
    const Ownership own(hits, clap);
    StepStack stack(hits, own, grid);
    for (std::size_t h = 0; h < hits.size(); ++h) agreed.weight += stack.weight(h);
    const std::vector<double> response = stackedResponse(hits, stack, grid);
    stack.add(responseHeights(response, grid, stack.heights().size()));
    const StepStack::Mode mode = stack.mode();
    if (mode.height <= 0.0) return agreed;
    agreed.crowd = own.crowd();
    agreed.lag = agreed.stepLag = timeByEdges(hits, stack, grid, mode.lag);
    agreed.height = mode.height;
    agreed.runnerUpLag = mode.runnerUpLag;
    agreed.runnerUpShare = mode.runnerUpShare;
    agreed.copyLag = copyLag(agreed, response, grid);
    consultResponse(agreed, response, grid, isGated(hits, stack));
    agreed.polarity = polarityOf(stackedResponse(hits, stack, grid, lowBands), response, agreed.stepLag, grid);
    agreed.bands = askBands(hits, stack, grid, agreed);
    for (std::size_t h = 0; h < hits.size(); ++h)
        agreed.hits[h] = opinionOf(*hits[h], stack.bandWeights(h), grid, {mode.lag, *agreed.lag, agreed.refined});
    const double top = *std::max_element(stack.heights().begin(), stack.heights().end());
    agreed.evidence.reserve(stack.heights().size());
    for (double x : stack.heights()) agreed.evidence.push_back(static_cast<float>(x / top));
    return agreed;
}
} // namespace tarry
