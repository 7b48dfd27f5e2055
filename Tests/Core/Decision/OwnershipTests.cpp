#include "Core/Decision/Ownership.h"

#include "Support/Catch.h"

#include <cmath>
#include <random>

using namespace tarry;

namespace
{
/// A hit that is so many dB louder in the spot than in the room, in every band, at any loudness.
PairEvidence hitWith(double ownDb, double roomLevel = 1e-4)
{
    PairEvidence hit;
    hit.heard = true;
    for (BandEvidence& band : hit.band)
    {
        band.present = true;
        band.size = 6.0;
        band.riseDb = 30.0;
        band.roomRise = roomLevel;
        band.spotRise = roomLevel * std::pow(10.0, ownDb / 10.0);
    }
    return hit;
}

std::vector<const PairEvidence*> pointersTo(const std::vector<PairEvidence>& hits)
{
    std::vector<const PairEvidence*> pointers;
    for (const PairEvidence& hit : hits) pointers.push_back(&hit);
    return pointers;
}
} // namespace

TEST_CASE("a player alone owns every hit, whatever the distance and however loud each", "[ownership]")
{
    // 20 log10(11 m / 0.5 m) is 27 dB: the direct sound's. Overheads are nearer.
    CHECK(20.0 * std::log10(11.0 / 0.5) == Approx(26.85).margin(0.01));
    for (const double own : {6.0, 15.0, 27.0})
    {
        std::mt19937 engine(1);
        std::normal_distribution<double> scatter(0.0, 1.0);
        std::uniform_real_distribution<double> level(-8.0, -2.0);
        std::vector<PairEvidence> hits;
        for (int i = 0; i < 8; ++i) hits.push_back(hitWith(own + scatter(engine), std::pow(10.0, level(engine))));
        const Ownership ownership(pointersTo(hits));
        CHECK_FALSE(ownership.crowd());
        for (std::size_t h = 0; h < hits.size(); ++h)
        {
            INFO("hit " << h << " at about " << own << " dB, seed 1: " << ownership.ofHit(h));
            CHECK(ownership.ofHit(h) > 0.5);
            CHECK(ownership.ofHit(h) <= 1.0);
        }
    }
}

TEST_CASE("neighbours are told from the player's own hits", "[ownership]")
{
    for (const double neighbour : {-5.0, 5.0, 12.0})
        for (unsigned seed = 1; seed <= 5; ++seed)
        {
            std::mt19937 engine(seed);
            std::normal_distribution<double> scatter(0.0, 1.5);
            std::vector<PairEvidence> hits;
            for (int i = 0; i < 16; ++i) hits.push_back(hitWith((i % 2 == 0 ? 27.0 : neighbour) + scatter(engine)));
            const Ownership ownership(pointersTo(hits));
            INFO("neighbours at " << neighbour << " dB, seed " << seed);
            CHECK(ownership.crowd());
            for (std::size_t h = 0; h < hits.size(); ++h)
                for (std::size_t b = 0; b < bandCount; ++b)
                {
                    const double share = ownership.ofBand(h, b, hits[h].band[b].ownDb());
                    INFO("hit " << h << ", band " << b << ": " << share);
                    if (h % 2 == 0)
                        CHECK(share > 0.5);
                    else
                        CHECK(share < 0.1);
                    CHECK(share <= ownership.ofHit(h)); // a band never counts more than its hit
                    CHECK(share >= 0.0);
                }
        }
}

TEST_CASE("more own counts never less; gain on either microphone changes nothing", "[ownership]")
{
    std::vector<PairEvidence> hits, quieterRoom;
    for (const double own : {27.0, 26.0, 24.0, 20.0, 15.0, 9.0, 3.0})
    {
        hits.push_back(hitWith(own));
        quieterRoom.push_back(hitWith(own + 12.0)); // the room's gain 12 dB down
    }
    const Ownership one(pointersTo(hits)), other(pointersTo(quieterRoom));
    for (std::size_t h = 0; h < hits.size(); ++h)
    {
        if (h > 0) CHECK(one.ofHit(h) <= one.ofHit(h - 1));
        CHECK(one.ofHit(h) == Approx(other.ofHit(h)).margin(1e-6));
    }
}

TEST_CASE("with claps, what does not step up in every band is out", "[ownership]")
{
    std::vector<PairEvidence> hits{hitWith(27.0, 1e-3), hitWith(27.0, 1e-3), hitWith(27.0, 1e-6)};
    hits[1].band[3].present = false; // a footstep
    const Ownership ownership(pointersTo(hits), true);
    CHECK(ownership.ofHit(0) == 1.0);
    CHECK(ownership.ofHit(1) == 0.0);
    CHECK(ownership.ofHit(2) == 0.0); // 30 dB softer
}

TEST_CASE("no hit, one hit", "[ownership]")
{
    CHECK_FALSE(Ownership({}).crowd());
    const std::vector<PairEvidence> one{hitWith(27.0)};
    CHECK(Ownership(pointersTo(one)).ofHit(0) > 0.5);
}
