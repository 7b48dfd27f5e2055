// The bench's own scenes: is the truth the truth? Impulses in place of instruments show where sound arrives.
#include "Support/Catch.h"
#include "Support/Shared.h"
#include "Support/Skip.h"
#include "scenes/Players.h"
#include "scenes/Rooms.h"

#include <cmath>
#include <set>

using namespace tarry;
using namespace tarry::bench;

namespace
{
constexpr double sample = 1.0 / soundRate;

Sounds impulses()
{
    return Sounds(Instrument{"an impulse", {{1.0}}});
}

/// s at which |track| first exceeds `share` of its largest value in [from, to) s.
double arrival(const std::vector<float>& track, double from, double to, double share)
{
    const auto begin = static_cast<std::size_t>(std::max(0.0, from) * soundRate);
    const auto end = std::min(track.size(), static_cast<std::size_t>(to * soundRate));
    float largest = 0.0F;
    for (auto i = begin; i < end; ++i) largest = std::max(largest, std::abs(track[i]));
    for (auto i = begin; i < end; ++i)
        if (static_cast<double>(std::abs(track[i])) > share * static_cast<double>(largest))
            return static_cast<double>(i) / soundRate;
    return -1.0;
}

/// By how much the tracks' first impulse is later in the room than in the spot.
double heardLag(const Example& example, double share)
{
    const double hit = example.hitTimes.front();
    const double spot = arrival(example.spot.front(), hit - 0.002, hit + 0.010, share);
    const double room = arrival(example.room.front(), hit + *example.lag - 0.010, hit + *example.lag + 0.004, share);
    return room - spot;
}

const Tier& tierOf(const std::string& name)
{
    for (const auto& tier : allTiers())
        if (tier.name == name) return tier;
    throw std::logic_error("no tier " + name);
}
} // namespace

TEST_CASE("one player's truth is where the impulse arrives, to 0.1 ms", "[scenes]")
{
    const auto sounds = impulses();
    const MeasuredRooms rooms("");
    for (const auto* name : {"drums", "melodic", "unseen-drums", "unseen-hand", "sides-alike", "sides-differ",
                             "late-1-5", "late-5-15", "compressed"})
        for (const unsigned scene : {0U, 1U, 2U, 3U})
        {
            const auto& tier = tierOf(name);
            const auto example = tier.make(tier, firstSeed(tier, SeedSet::training) + scene, {sounds, rooms});
            INFO(name << ", scene " << scene << ": said " << 1e3 * *example.lag << " ms, heard "
                      << 1e3 * heardLag(example, 0.3));
            CHECK(std::abs(heardLag(example, 0.3) - *example.lag) < 0.0001);
        }
}

TEST_CASE("a late spot is later than the room by what its tier says", "[scenes]")
{
    const auto sounds = impulses();
    const MeasuredRooms rooms("");
    for (unsigned scene = 0; scene < 8; ++scene)
    {
        const auto& tier = tierOf("late-1-5");
        const auto example = tier.make(tier, firstSeed(tier, SeedSet::training) + scene, {sounds, rooms});
        CHECK(*example.lag < -0.001 + 2.0 * sample);
        CHECK(*example.lag > -0.005 - 2.0 * sample);
        CHECK(example.settings.lookAhead == 0.0);
        CHECK(example.spot.front().size() == example.room.front().size());
    }
}

TEST_CASE("measured rooms: the truth is where the response first exceeds a tenth of its peak", "[scenes][outside]")
{
    TARRY_NEED_SHARED(folder, "real-rooms");
    const auto sounds = impulses();
    const MeasuredRooms rooms(folder);
    const auto& tier = tierOf("rooms-drums");
    std::set<std::string> places;
    for (const auto set : {SeedSet::training, SeedSet::development, SeedSet::judging})
    {
        std::set<std::string> ofSet;
        for (unsigned scene = 0; scene < 6; ++scene)
        {
            const auto seed = firstSeed(tier, set) + scene;
            ofSet.insert(rooms.pick(set, seed)->place);
            auto example = tier.make(tier, seed, {sounds, rooms});
            // Of the first hit alone: the room's noise is far below a tenth of its peak.
            const double spot = arrival(example.spot.front(), 0.45, 0.7, 0.3);
            const double room = arrival(example.room.front(), 0.45, 0.7, 0.1);
            INFO(example.name << ": said " << 1e3 * *example.lag << " ms, heard " << 1e3 * (room - spot));
            CHECK(std::abs(room - spot - *example.lag) < 0.0002);
        }
        for (const auto& place : ofSet) CHECK(places.insert(place).second); // no place in two sets
    }
}

TEST_CASE("both spaces: direct sound on time and at 1 / distance, nothing before it", "[scenes]")
{
    for (const auto make : {makeHallSpace, makeOtherSpace})
        for (unsigned seed = 1; seed <= 5; ++seed)
        {
            hall::Random random(seed, 1);
            const auto space = make(random);
            const hall::Point source{3.0, 4.0, 1.0}, there{3.0 + 4.0, 4.0 + 3.0, 1.0}; // 5 m
            const auto response = space->response(source, {}, {there, {}}, random);
            const double place = 5.0 / space->speed() * soundRate;
            const auto near = static_cast<std::size_t>(std::lround(place));
            double before = 0.0, sum = 0.0;
            for (std::size_t i = 0; i + 40 < near; ++i) before = std::max(before, std::abs(response[i]));
            for (std::size_t i = near - 12; i <= near + 12; ++i) sum += response[i];
            INFO("seed " << seed << ", first at " << place << " samples: sum " << sum << ", before it " << before);
            CHECK(before < 1e-4);
            CHECK(sum == Approx(0.2).epsilon(0.15)); // the air's low-pass spreads it, the floor is not there yet
        }
}

TEST_CASE("the same seed gives the same samples", "[scenes]")
{
    const auto sounds = impulses();
    const MeasuredRooms rooms("");
    for (const auto* name : {"drums", "unseen-neighbour-6", "together", "moved"})
    {
        const auto& tier = tierOf(name);
        const auto seed = firstSeed(tier, SeedSet::development) + 5;
        const auto once = tier.make(tier, seed, {sounds, rooms}), again = tier.make(tier, seed, {sounds, rooms});
        CHECK(once.spot == again.spot);
        CHECK(once.room == again.room);
    }
}

TEST_CASE("every player of a section is as loud in the spot as the next", "[scenes]")
{
    const auto sounds = impulses();
    const MeasuredRooms rooms("");
    for (unsigned scene = 0; scene < 4; ++scene)
    {
        const auto& equal = tierOf("apart");
        const auto even = equal.make(equal, firstSeed(equal, SeedSet::training) + scene, {sounds, rooms});
        CHECK_FALSE(even.lag);
        CHECK(*even.louderDb <= 1.0);
        const auto& six = tierOf("louder-6");
        const auto louder = six.make(six, firstSeed(six, SeedSet::training) + scene, {sounds, rooms});
        CHECK_FALSE(louder.lag);
        CHECK(*louder.louderDb >= 5.0);
        CHECK(*louder.louderDb <= 7.0);
    }
}

TEST_CASE("no seed belongs to two tiers or two sets", "[scenes]")
{
    std::set<unsigned> numbers;
    std::set<std::string_view> names;
    for (const auto& tier : allTiers())
    {
        INFO(tier.name);
        CHECK(numbers.insert(tier.number).second);
        CHECK(names.insert(tier.name).second);
        for (const auto set : {SeedSet::training, SeedSet::development, SeedSet::judging})
        {
            CHECK(setOf(firstSeed(tier, set)) == set);
            CHECK(setOf(firstSeed(tier, set) + seedsPerTier - 1) == set);
        }
    }
}

TEST_CASE("resampling moves nothing in time", "[scenes]")
{
    for (const double rate : {44100.0, 96000.0})
    {
        std::vector<double> impulse(20000);
        impulse[9000] = 1.0;
        const auto there = resampled(impulse, rate);
        double sum = 0.0, moment = 0.0;
        for (std::size_t i = 0; i < there.size(); ++i)
        {
            sum += there[i] * there[i];
            moment += there[i] * there[i] * static_cast<double>(i);
        }
        INFO(rate << " Hz");
        CHECK(moment / sum == Approx(9000.0 * soundRate / rate).margin(0.1)); // of a sample
    }
}

TEST_CASE("no set hears another's instruments", "[scenes][outside]")
{
    const Sounds sounds{Sounds::Folders{}};
    std::map<std::string, SeedSet> heardBy;
    for (const auto set : {SeedSet::training, SeedSet::development, SeedSet::judging})
        for (const auto kind : {Kind::drum, Kind::low, Kind::hand, Kind::melodic})
            for (unsigned n = 0; n < 20; ++n)
            {
                std::shared_ptr<const Instrument> instrument;
                try
                {
                    instrument = sounds.pick(kind, set, n);
                }
                catch (const Lacking& e)
                {
                    TARRY_SKIP(e.what());
                }
                const auto [there, isNew] = heardBy.try_emplace(instrument->name, set);
                INFO(instrument->name);
                CHECK(there->second == set);
                REQUIRE(instrument->hits.size() > 1);
                for (const auto& hit : instrument->hits) CHECK(hit.size() > 400);
            }
    CHECK(heardBy.size() > 40);
}
