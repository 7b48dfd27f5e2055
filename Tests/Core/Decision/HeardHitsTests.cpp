#include "Core/Decision/HeardHits.h"

#include "Core/Heard.h"
#include "Support/Catch.h"

using namespace tarry;
using namespace tarry::test;

namespace
{
PairEvidence hitThatStands(float step, float noise, bool heard = true)
{
    PairEvidence hit;
    hit.heard = heard;
    hit.largestStep = step;
    hit.noiseStep = noise;
    return hit;
}

std::vector<std::size_t> heardOf(const std::vector<PairEvidence>& hits)
{
    std::vector<const PairEvidence*> pointers;
    for (const PairEvidence& hit : hits) pointers.push_back(&hit);
    return heardHits(pointers);
}

/// The player's hits, and a click at every beat in the headphones that only the spot hears, so many dB under them.
Take withClicks(unsigned seed, double clickDb)
{
    Strokes strokes;
    strokes.times = evenTimes(6, 0.5, 1.1);
    strokes.seed = seed;
    Take take = makeTake(48000.0, 0.0311, strokes, 0.05, -75.0);
    Strokes clicks;
    clicks.times = evenTimes(13, 0.31, 0.48);
    clicks.seed = seed + 50;
    addStrokes(take.spot, 48000.0, clicks, 0.0, gainOf(clickDb));
    return take;
}
} // namespace

TEST_CASE("a click in the headphones says nothing, and the lag is the player's", "[heard]")
{
    // Clicks are far more 'own' than any hit: the room never hears them. They once decided the lag.
    for (const double clickDb : {-12.0, -24.0})
        for (unsigned seed = 1; seed <= 6; ++seed)
        {
            const Report report = heard(withClicks(seed, clickDb));
            INFO("seed " << seed << ", clicks at " << clickDb << " dB; " << report.hitsUnheard << " of "
                         << report.hitsFound << " unheard");
            REQUIRE(report.lag);
            CHECK(std::abs(*report.lag - 0.0311) <= 0.0001);
            CHECK(report.hitsUnheard >= 8);
            CHECK(report.hitsFound - report.hitsUnheard >= 4);
        }
}

TEST_CASE("clicks alone: nothing to align by", "[heard]")
{
    Take take = withClicks(3, -12.0);
    take.room = noise(take.room.size(), 77, gainOf(-60.0));
    const Report report = heard(take);
    INFO(report.reasons.front());
    CHECK(report.verdict != Verdict::align);
    CHECK(report.confidence < 0.5);
}

TEST_CASE("an answer counts against the clearest: clicks go, soft hits and even rolls stay", "[heard]")
{
    CHECK(heardOf({hitThatStands(6.0F, 0.5F), hitThatStands(5.5F, 0.4F), hitThatStands(1.0F, 0.6F)}) ==
          std::vector<std::size_t>{0, 1});
    CHECK(heardOf({hitThatStands(6.0F, 0.5F), hitThatStands(5.5F, 0.4F), hitThatStands(2.4F, 0.6F)}).size() == 3);
    CHECK(heardOf({hitThatStands(1.4F, 0.9F), hitThatStands(1.2F, 0.9F), hitThatStands(1.3F, 1.0F)}).size() == 3);
    CHECK(heardOf({hitThatStands(6.0F, 0.5F, false), hitThatStands(1.4F, 0.9F)}) == std::vector<std::size_t>{1});
    CHECK(heardOf({}).empty());
    // One odd sound, a door, does not silence the player.
    CHECK(heardOf({hitThatStands(30.0F, 0.5F), hitThatStands(3.0F, 0.4F), hitThatStands(2.5F, 0.6F)}).size() == 3);
}
