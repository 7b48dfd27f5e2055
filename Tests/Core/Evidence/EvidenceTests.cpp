#include "Core/Evidence/Evidence.h"

#include "Core/Ground/Peaks.h"
#include "Core/Heard.h"
#include "Support/Catch.h"

using namespace tarry;
using namespace tarry::test;

namespace
{
constexpr double rate = 48000.0, lag = 0.0213;
constexpr int onset = 24000;

struct Heard
{
    LagGrid grid{rate, 0.0, 0.08};
    PairEvidence evidence;

    explicit Heard(const Take& take)
    {
        EvidenceMeter meter(grid);
        const std::vector<double> spot(take.spot.begin(), take.spot.end()), room(take.room.begin(), take.room.end());
        EvidenceMeter::Spot ours;
        EvidenceMeter::Room theirs;
        meter.measure(ours, spot, onset);
        meter.measure(theirs, room, onset);
        evidence = meter.pair(ours, theirs);
    }
};

Take oneStroke(double noiseDb)
{
    Strokes strokes;
    strokes.times = {0.5};
    strokes.seed = 4;
    return makeTake(rate, lag, strokes, 0.1, noiseDb);
}
} // namespace

TEST_CASE("a hit's steps and answer have their largest at the lag", "[evidence]")
{
    const Heard heard(oneStroke(-75.0));
    const PairEvidence& hit = heard.evidence;
    CHECK(hit.heard);
    const auto lagOf = [&](const std::vector<float>& curve)
    {
        const auto first = curve.begin() + heard.grid.noise / PairEvidence::stride;
        return heard.grid.lag(static_cast<double>(std::max_element(first, curve.end()) - curve.begin()) *
                              PairEvidence::stride);
    };
    CHECK(std::abs(lagOf(hit.steps) - lag) < 0.0005);
    CHECK(std::abs(lagOf(hit.answer) - lag) < 0.0001);
    CHECK(hit.largestStep > 3.0F * hit.noiseStep);
    for (const BandEvidence& band : hit.band)
        if (band.present) CHECK(band.steps.size() == hit.steps.size());
}

TEST_CASE("a room that does not answer is not heard to", "[evidence]")
{
    Take deaf = oneStroke(-75.0);
    const Take other = oneStroke(-45.0);
    std::fill(deaf.room.begin(), deaf.room.end(), 0.0F);
    CHECK_FALSE(Heard(deaf).evidence.heard);
    CHECK(Heard(other).evidence.heard);
}

TEST_CASE("adding responses is adding every band's, weighted", "[evidence]")
{
    const PairEvidence hit = Heard(oneStroke(-75.0)).evidence;
    std::vector<double> sum(hit.response[0].size(), 1.0);
    hit.addResponse(sum, -2.0);
    for (std::size_t i = 0; i < sum.size(); i += 97)
    {
        double all = 0.0;
        for (const auto& band : hit.response) all += band[i];
        CHECK(std::abs(sum[i] - (1.0 - 2.0 * all)) < 1e-9);
    }
    hit.addResponse(sum, 2.0);
    CHECK(rms(sum, 100) == Approx(1.0).epsilon(1e-9));
}

TEST_CASE("a spot that is louder than the room by 20 dB more is more 'own' by as much", "[evidence]")
{
    Take take = oneStroke(-90.0);
    const PairEvidence before = Heard(take).evidence;
    for (float& x : take.room) x *= 0.1F;
    const PairEvidence after = Heard(take).evidence;
    for (std::size_t b = 0; b < bandCount; ++b)
        if (before.band[b].present) CHECK(std::abs(after.band[b].ownDb() - before.band[b].ownDb() - 20.0) < 0.2);
}
