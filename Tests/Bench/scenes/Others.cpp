/// The small families: late, alone, stereo, twolags.
#include "Players.h"

#include <cmath>
#include <numbers>

namespace tarry::bench
{
namespace
{
using hall::Point;
using hall::Random;

/// The spot's track arrives late, over a wireless link or a digital desk: `low` to `high` ms after the room.
/// Look-ahead stays off, as the settings have it.
template <int low, int high, bool neighbour = false>
Example late(const Tier& tier, unsigned seed, const Material& material)
{
    auto example = neighbour ? beside(tier, seed, material, Kind::drum, makeHallSpace, -9.0)
                             : soloist(tier, seed, material, mixedKind(seed), makeHallSpace);
    Random random(seed, Stream::others + 1);
    const auto by = static_cast<std::size_t>((*example.lag + 1e-3 * random.between(low, high)) * soundRate);
    for (auto& track : example.spot)
    {
        track.insert(track.begin(), by, 0.0F); // silence: the link had not opened yet
        track.resize(example.room.front().size());
    }
    *example.lag -= static_cast<double>(by) / soundRate;
    for (double& time : example.hitTimes) time += static_cast<double>(by) / soundRate;
    example.earliest = -0.020;
    return example;
}

/// Spot and room of different performances in different halls: so many hits in each.
Example strangers(const Tier& tier, unsigned seed, const Material& material, std::size_t spotHits, int roomHits)
{
    Random random(seed, Stream::layout), sounding(seed, Stream::sounding), others(seed, Stream::others);
    const auto here = setUp(makeHallSpace(random), random);
    const auto there = setUp(random.coin() ? makeHallSpace(random) : makeOtherSpace(random), random);
    auto player = aPlayer(mixedKind(seed), seed, material);
    player.strokes.resize(std::min(player.strokes.size(), spotHits));
    const double seconds = lengthOf(player.strokes, *here.space) + 0.5;
    Take take(seconds, 1, 1);
    auto heard = take.hear(here, here.player, sound(*player.instrument, player.strokes, seconds), sounding);
    if (roomHits > 0)
    {
        const auto other = material.sounds.pick(mixedKind(seed / 6), setOf(seed), seed / 5 + 1);
        const double last = player.strokes.back().time;
        auto strokes = spotHits > 1 ? playFreely(*other, roomHits, 0.3, last + 0.3, others)
                                    : playFreely(*other, roomHits, std::max(0.0, last - 0.15), last + 0.2, others);
        heard[1] = take.hear(there, there.player, sound(*other, strokes, seconds), sounding)[1];
    }
    else
        for (auto& bin : heard[1]) bin *= 1e-6; // noise alone
    take.add(heard, 1.0);
    auto example = begin(tier, seed);
    Take::Finish finish;
    if (roomHits == 0) finish.roomNoiseDb = -3.0;
    take.finish(example, finish, others);
    return example;
}

Example oneHit(const Tier& tier, unsigned seed, const Material& material)
{
    return strangers(tier, seed, material, 1, 1);
}

Example manyHits(const Tier& tier, unsigned seed, const Material& material)
{
    return strangers(tier, seed, material, 8, 8);
}

Example noHits(const Tier& tier, unsigned seed, const Material& material)
{
    return strangers(tier, seed, material, seed % 2 == 0 ? 1 : 8, 0);
}

enum class Sides
{
    alike,     ///< one microphone panned: the sides differ in level
    differing, ///< two microphones, 20 to 60 cm apart
    oneSilent  ///< a mono track in a stereo file: noise on the other side
};

template <Sides sides>
Example stereo(const Tier& tier, unsigned seed, const Material& material)
{
    Random random(seed, Stream::layout), sounding(seed, Stream::sounding), others(seed, Stream::others);
    auto setup = setUp(makeHallSpace(random), random);
    if (sides == Sides::differing)
    {
        auto second = setup.spots.front();
        const double angle = others.between(0.0, 6.28), away = others.between(0.2, 0.6);
        second.place = second.place + Point{away * std::cos(angle), away * std::sin(angle), 0.0};
        setup.spots.push_back(second);
    }
    const auto player = aPlayer(mixedKind(seed), seed, material);
    const double seconds = lengthOf(player.strokes, *setup.space);
    Take take(seconds, setup.spots.size(), 1);
    take.add(take.hear(setup, setup.player, sound(*player.instrument, player.strokes, seconds), sounding), 1.0);
    auto example = begin(tier, seed);
    example.name += " " + player.instrument->name;
    finishSolo(example, take, setup, player.strokes, {});
    if (sides == Sides::differing)
        example.sideLags = {setup.lag(setup.player, 0), setup.lag(setup.player, 1)};
    else
    {
        auto other = example.spot.front();
        const auto level = static_cast<float>(sides == Sides::alike ? fromDb(others.between(-9.0, 0.0)) : 0.0);
        for (float& x : other) x = level * x + 1e-4F * static_cast<float>(others.gauss());
        example.spot.insert(seed % 2 == 0 ? example.spot.end() : example.spot.begin(), other);
        example.sideLags = {*example.lag, *example.lag};
    }
    return example;
}

/// Half the hits before somebody moved the spot's stand by 0.3 to 1.5 m, half after: neither lag is the take's.
Example moved(const Tier& tier, unsigned seed, const Material& material)
{
    Random random(seed, Stream::layout), sounding(seed, Stream::sounding), others(seed, Stream::others);
    const auto before = setUp(makeHallSpace(random), random);
    const auto player = aPlayer(mixedKind(seed), seed, material);
    const double seconds = lengthOf(player.strokes, *before.space);
    auto after = before;
    do
    {
        const double angle = others.between(0.0, 6.28), away = others.between(0.3, 1.5);
        after.spots.front().place =
            before.spots.front().place + Point{away * std::cos(angle), away * std::sin(angle), 0.1};
    } while (std::abs(after.lag() - before.lag()) < 0.0007);
    Take take(seconds, 1, 1);
    const auto middle = player.strokes.begin() + 4;
    const auto first = take.hear(before, before.player,
                                 sound(*player.instrument, {player.strokes.begin(), middle}, seconds), sounding);
    const auto second =
        take.hear(after, after.player, sound(*player.instrument, {middle, player.strokes.end()}, seconds), sounding);
    take.add(first, 1.0);
    take.add(second, std::sqrt(take.loudness(first, 0) / take.loudness(second, 0)));
    auto example = begin(tier, seed);
    example.name += " " + player.instrument->name;
    finishSolo(example, take, before, player.strokes, {});
    example.lag.reset();
    example.polarity.reset();
    return example;
}
} // namespace

const std::vector<Tier>& lateTiers()
{
    static const std::vector<Tier> tiers{
        {"late", "late-1-5", "none sure and wrong", 100, 1, late<1, 5>},
        {"late", "late-5-15", "none sure and wrong", 101, 1, late<5, 15>},
        {"late", "late-neighbour", "none sure and wrong", 102, 0.5, late<1, 15, true>},
    };
    return tiers;
}

const std::vector<Tier>& aloneTiers()
{
    static const std::vector<Tier> tiers{
        {"alone", "one-unrelated", "none sure", 105, 1, oneHit},
        {"alone", "unrelated-hits", "none sure", 106, 1, manyHits},
        {"alone", "noise-in-room", "none sure", 107, 0.5, noHits},
    };
    return tiers;
}

const std::vector<Tier>& stereoTiers()
{
    static const std::vector<Tier> tiers{
        {"stereo", "sides-alike", ">= 0.97", 110, 1, stereo<Sides::alike>},
        {"stereo", "sides-differ", ">= 0.97", 111, 1, stereo<Sides::differing>},
        {"stereo", "one-side-silent", ">= 0.97", 112, 0.5, stereo<Sides::oneSilent>},
    };
    return tiers;
}

const std::vector<Tier>& twoLagTiers()
{
    static const std::vector<Tier> tiers{{"twolags", "moved", "not align", 115, 1, moved}};
    return tiers;
}
} // namespace tarry::bench
