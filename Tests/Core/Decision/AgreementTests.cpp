#include "Core/Decision/Agreement.h"

#include "Support/Catch.h"

using namespace tarry;

namespace
{
PairEvidence hitOfLoudness(double rise)
{
    PairEvidence hit;
    hit.heard = true;
    for (BandEvidence& band : hit.band) band.spotRise = rise / static_cast<double>(bandCount);
    return hit;
}

HitArrival arrival(double weight, std::optional<double> lag)
{
    HitArrival hit;
    hit.weight = weight;
    hit.lag = lag;
    return hit;
}
} // namespace

TEST_CASE("hits agree by count, by weight and by what the spot hears of them", "[agreement]")
{
    Arrival found;
    found.lag = 0.030;
    found.hits = {arrival(1.0, 0.0301), arrival(0.5, 0.0299), arrival(0.5, 0.0400), arrival(1.0, {}),
                  arrival(0.05, 0.0300)};
    const std::vector<PairEvidence> evidence{hitOfLoudness(4.0), hitOfLoudness(2.0), hitOfLoudness(1.0),
                                             hitOfLoudness(1.0), hitOfLoudness(8.0)};
    std::vector<const PairEvidence*> hits;
    for (const PairEvidence& hit : evidence) hits.push_back(&hit);

    const Agreement all = agreementOn(found, hits, false);
    CHECK(all.used == 4); // the last one's weight is too small
    CHECK(all.agreeing == 2);
    CHECK(all.byWeight == Approx(0.5));
    CHECK(all.byLoudness == Approx(6.0 / 16.0)); // but it is heard
    CHECK(all.spread == Approx(1.4826 * 0.0001));
    CHECK(agreementOn(found, hits, true).byLoudness == Approx(6.0 / 8.0)); // no clap: it does not count
}

TEST_CASE("the border of agreement is half a millisecond", "[agreement]")
{
    CHECK(agrees(arrival(1.0, 0.0304999), 0.030));
    CHECK_FALSE(agrees(arrival(1.0, 0.0305001), 0.030));
    CHECK_FALSE(agrees(arrival(0.0999, 0.030), 0.030));
    CHECK_FALSE(agrees(arrival(1.0, {}), 0.030));
}

TEST_CASE("without a lag nothing agrees", "[agreement]")
{
    const PairEvidence hit = hitOfLoudness(1.0);
    Arrival found;
    found.hits = {arrival(1.0, 0.03)};
    const Agreement none = agreementOn(found, {&hit}, false);
    CHECK(none.used == 0);
    CHECK(none.byLoudness == 0.0);
}
