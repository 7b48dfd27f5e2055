#include "Core/Decision/HitArrival.h"
#include "Core/Decision/StepStack.h"
#include "Core/Heard.h"
#include "Support/Catch.h"

using namespace tarry;
using namespace tarry::test;

namespace
{
/// A hit whose steps are noise, and peaks of these heights at these points of the lags (from the earliest on).
PairEvidence hitWithPeaks(const LagGrid& grid, const std::vector<std::pair<std::size_t, float>>& peaks)
{
    const auto points = static_cast<std::size_t>((grid.count + PairEvidence::stride - 1) / PairEvidence::stride);
    const auto first = static_cast<std::size_t>(grid.noise / PairEvidence::stride);
    PairEvidence hit;
    for (std::size_t i = 0; i < points; ++i) hit.steps.push_back(0.1F * static_cast<float>(i * 7919U % 13U) / 13.0F);
    for (const auto& [point, height] : peaks) hit.steps[first + point] = height;
    hit.heard = true;
    for (BandEvidence& band : hit.band)
    {
        band.present = true;
        band.size = 6.0;
        band.riseDb = 20.0;
        band.spotRise = 1.0;
        band.roomRise = 1e-3;
        band.steps = PackedCurve(hit.steps);
        band.attack.assign(static_cast<std::size_t>(2 * attackHalf(grid) / PairEvidence::stride + 1), 0.0F);
        band.attack[band.attack.size() / 2] = 5.0F;
    }
    hit.response.fill(PackedCurve(std::vector<float>(static_cast<std::size_t>(grid.count), 0.01F)));
    hit.answer.assign(points, 1.0F);
    hit.largestStep = *std::max_element(hit.steps.begin(), hit.steps.end());
    hit.largestAnswer = 1.0F;
    return hit;
}
} // namespace

TEST_CASE("a mode at either end of the lags is found, and every hit can be asked about it", "[stack]")
{
    // A mode at the grid's end was read beyond: in a host the plugin died.
    const LagGrid grid(48000.0, 0.0, 0.080);
    const auto last = static_cast<std::size_t>((grid.count + PairEvidence::stride - 1) / PairEvidence::stride -
                                               grid.noise / PairEvidence::stride - 1);
    for (const std::size_t point : {std::size_t{0}, std::size_t{1}, last / 2, last - 1, last})
    {
        INFO("point " << point << " of " << last);
        const PairEvidence hit = hitWithPeaks(grid, {{point, 5.0F}});
        const std::vector<const PairEvidence*> hits{&hit, &hit, &hit};
        const StepStack stack(hits, Ownership(hits).weights(hits), grid);
        const StepStack::Mode mode = stack.mode();
        const double there = grid.lag(grid.noise + static_cast<double>(point) * PairEvidence::stride);
        CHECK(mode.height > 0.0);
        CHECK(std::abs(mode.lag - there) <= 0.001);
        CHECK(stack.modeNear(there).height == mode.height);
        for (const double beyond : {0.0, 0.0009, -0.0009, 0.5, -0.5})
        {
            const HitArrival asked =
                arrivalOf(hit, {1.0, 1.0, 1.0, 1.0}, grid, {mode.lag + beyond, mode.lag + beyond, true});
            CHECK(std::isfinite(asked.lag.value_or(0.0)));
            CHECK(std::isfinite(asked.clearDb));
            CHECK(asked.explained >= 0.0);
            CHECK(asked.explained <= 1.0);
        }
    }
}

TEST_CASE("the earliest peak that comes near the largest wins; without any step there is no mode", "[stack]")
{
    const LagGrid grid(48000.0, 0.0, 0.080);
    const auto modeOf = [&grid](const PairEvidence& hit)
    {
        const std::vector<const PairEvidence*> hits{&hit};
        return StepStack(hits, Ownership(hits).weights(hits), grid).mode();
    };
    const StepStack::Mode near = modeOf(hitWithPeaks(grid, {{600, 4.5F}, {700, 5.0F}}));
    CHECK(std::abs(near.lag - grid.lag(grid.noise + 600 * PairEvidence::stride)) <= 0.0005);
    CHECK(near.runnerUpShare > 1.0); // the later one is higher
    const StepStack::Mode far = modeOf(hitWithPeaks(grid, {{600, 2.0F}, {700, 5.0F}}));
    CHECK(std::abs(far.lag - grid.lag(grid.noise + 700 * PairEvidence::stride)) <= 0.0005);

    const PairEvidence silent;
    CHECK(StepStack({&silent}, HitWeights(1), grid).mode().height == 0.0);
}
