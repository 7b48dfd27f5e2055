#include "Equipment.h"
#include "Players.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>

namespace tarry::bench
{
namespace
{
using hall::Point;
using hall::Random;

/// One player whose spot's track goes through `equipment`.
template <typename Equipment>
Example treated(const Tier& tier, unsigned seed, const Material& material, Equipment equipment)
{
    Random random(seed, Stream::layout), sounding(seed, Stream::sounding), others(seed, Stream::others);
    const auto setup = setUp(makeHallSpace(random), random);
    const auto player = aPlayer(mixedKind(seed), seed, material);
    const double seconds = lengthOf(player.strokes, *setup.space);
    Take take(seconds, 1, 1);
    take.add(take.hear(setup, setup.player, sound(*player.instrument, player.strokes, seconds), sounding), 1.0);
    auto example = begin(tier, seed);
    example.name += " " + player.instrument->name;
    Take::Finish finish;
    finish.spotOnly = [&](std::vector<double>& spot) { equipment(spot, others); };
    finishSolo(example, take, setup, player.strokes, finish);
    return example;
}

Example compressed(const Tier& tier, unsigned seed, const Material& material)
{
    return treated(tier, seed, material,
                   [](std::vector<double>& spot, Random& random)
                   {
                       equalise(spot, random);
                       compress(spot, random);
                   });
}

Example gated(const Tier& tier, unsigned seed, const Material& material)
{
    return treated(tier, seed, material, gate);
}

/// The player plays to the click, most of the time on it.
template <int decibels>
Example click(const Tier& tier, unsigned seed, const Material& material)
{
    Random random(seed, Stream::layout), sounding(seed, Stream::sounding), others(seed, Stream::others);
    const auto setup = setUp(makeHallSpace(random), random);
    auto player = aPlayer(mixedKind(seed), seed, material);
    const double beat = others.between(0.33, 0.6);
    int number = 1;
    for (auto& stroke : player.strokes)
    {
        number += others.wholeBetween(1, 3);
        const double off = others.wholeBetween(0, 3) == 0 ? 0.5 : 0.0; // of a beat
        stroke.time = 0.25 + (number + off) * beat + 0.012 * std::clamp(others.gauss(), -2.0, 2.0);
    }
    const double seconds = lengthOf(player.strokes, *setup.space);
    Take take(seconds, 1, 1);
    take.add(take.hear(setup, setup.player, sound(*player.instrument, player.strokes, seconds), sounding), 1.0);
    auto example = begin(tier, seed);
    example.name += " " + player.instrument->name;
    Take::Finish finish;
    finish.spotOnly = [&](std::vector<double>& spot) { addClicks(spot, beat, fromDb(-decibels), others); };
    finishSolo(example, take, setup, player.strokes, finish);
    return example;
}

template <int decibels>
Example orchestra(const Tier& tier, unsigned seed, const Material& material)
{
    return amidOrchestra(tier, seed, material, makeHallSpace, decibels);
}

Example rolled(const Tier& tier, unsigned seed, const Material& material)
{
    return roll(tier, seed, material, makeHallSpace);
}

/// Soft strokes 45 to 75 ms apart that grow out of nothing over seconds: there is no attack to time.
Example swell(const Tier& tier, unsigned seed, const Material& material)
{
    Random random(seed, Stream::layout), sounding(seed, Stream::sounding), others(seed, Stream::others);
    const auto setup = setUp(makeHallSpace(random), random);
    auto soft = *material.sounds.pick(seed % 2 == 0 ? Kind::low : Kind::drum, setOf(seed), seed);
    const auto rise = static_cast<std::size_t>(others.between(0.012, 0.035) * soundRate);
    for (auto& hit : soft.hits)
        for (std::size_t i = 0; i < std::min(rise, hit.size()); ++i)
            hit[i] *= 0.5 - 0.5 * std::cos(std::numbers::pi * static_cast<double>(i) / static_cast<double>(rise));

    std::vector<Stroke> strokes;
    const double beat = others.between(0.045, 0.075);
    double from = 0.4;
    for (int n = 0; n < 3; ++n)
    {
        const double length = others.between(1.6, 2.6);
        for (auto stroke : play(soft, static_cast<int>(length / beat), from, beat, others))
        {
            const double share = std::clamp((stroke.time - from) / length, 0.0, 1.0);
            const double up = std::min(1.0, share / 0.7), down = std::min(1.0, (1.0 - share) / 0.3);
            stroke.gain *= fromDb(-36.0 * (1.0 - up) - 24.0 * (1.0 - down));
            strokes.push_back(stroke);
        }
        from += length + others.between(0.3, 0.6);
    }
    const double seconds = lengthOf(strokes, *setup.space);
    Take take(seconds, 1, 1);
    take.add(take.hear(setup, setup.player, sound(soft, strokes, seconds), sounding), 1.0);
    auto example = begin(tier, seed);
    example.name += " " + soft.name;
    finishSolo(example, take, setup, strokes, {});
    return example;
}

/// Four ticks before the first hit: the player's own sticks above the drum, or somebody who stands in front.
Example countIn(const Tier& tier, unsigned seed, const Material& material)
{
    Random random(seed, Stream::layout), sounding(seed, Stream::sounding), others(seed, Stream::others);
    const auto setup = setUp(makeHallSpace(random), random);
    auto player = aPlayer(mixedKind(seed), seed, material);
    player.strokes.resize(6);
    const double beat = others.between(0.4, 0.6);
    for (auto& stroke : player.strokes) stroke.time += 4.0 * beat;
    const double seconds = lengthOf(player.strokes, *setup.space);
    Take take(seconds, 1, 1);
    const auto own = take.hear(setup, setup.player, sound(*player.instrument, player.strokes, seconds), sounding);
    take.add(own, 1.0);

    const auto sticks = material.sounds.pick(Kind::hand, setOf(seed), seed + 4);
    const auto ticks = play(*sticks, 4, 0.5, beat, others);
    const bool byPlayer = seed % 2 == 0;
    auto place =
        placeNear(setup, setup.player, others.between(0.0, 6.28), byPlayer ? 0.3 : others.between(2.0, 4.0), others);
    if (byPlayer) place.z = setup.player.z + others.between(0.2, 0.5);
    const auto heard = take.hear(setup, place, sound(*sticks, ticks, seconds), sounding);
    const double perHit = take.loudness(own, 1) / 6.0 / (take.loudness(heard, 1) / 4.0);
    take.add(heard, fromDb(others.between(-10.0, 0.0)) * std::sqrt(perHit));

    auto example = begin(tier, seed);
    example.name += " " + player.instrument->name + (byPlayer ? " own sticks" : " in front");
    finishSolo(example, take, setup, player.strokes, {});
    return example;
}

/// One microphone between two drums of one player, about as far from the room: their lags differ by up to 0.5 ms, the
/// truth is the mean.
Example twoDrums(const Tier& tier, unsigned seed, const Material& material)
{
    Random random(seed, Stream::layout), sounding(seed, Stream::sounding), others(seed, Stream::others);
    auto setup = setUp(makeHallSpace(random), random);
    setup.spots.front().place = setup.player + Point{0.0, 0.0, others.between(0.25, 0.6)};
    setup.spots.front().hearing = {{0.0, 0.0, -1.0}, 0.5};
    const double half = others.between(0.2, 0.4);
    Point left, right;
    do
    {
        const double angle = others.between(0.0, 6.28);
        const Point off{half * std::cos(angle), half * std::sin(angle), 0.0};
        left = setup.player + off;
        right = setup.player - off;
    } while (std::abs(setup.lag(left) - setup.lag(right)) > 0.0005);

    const auto first = aPlayer(Kind::drum, seed, material);
    const auto second = material.sounds.pick(Kind::drum, setOf(seed), seed + 2);
    std::array<std::vector<Stroke>, 2> strokes;
    for (std::size_t i = 0; i < first.strokes.size(); ++i) strokes[others.coin() ? 1 : 0].push_back(first.strokes[i]);
    for (auto& stroke : strokes[1]) stroke.hit %= second->hits.size();
    const double seconds = lengthOf(first.strokes, *setup.space);
    Take take(seconds, 1, 1);
    take.add(take.hear(setup, left, sound(*first.instrument, strokes[0], seconds), sounding), 1.0);
    take.add(take.hear(setup, right, sound(*second, strokes[1], seconds), sounding), 1.0);
    auto example = begin(tier, seed);
    example.name += " " + first.instrument->name + " and " + second->name;
    finishSolo(example, take, setup, first.strokes, {});
    example.lag = 0.5 * (setup.lag(left) + setup.lag(right));
    return example;
}
} // namespace

const std::vector<Tier>& stageTiers()
{
    static const std::vector<Tier> tiers{
        {"stage", "click-12", ">= 0.97", 60, 1, click<12>},
        {"stage", "click-24", ">= 0.97", 61, 1, click<24>},
        {"stage", "compressed", ">= 0.98", 62, 1, compressed},
        {"stage", "gate", "", 63, 1, gated},
        {"stage", "orchestra-0", ">= 0.85", 64, 1, orchestra<0>},
        {"stage", "orchestra-6", ">= 0.65", 65, 1, orchestra<6>},
        {"stage", "recorded-roll", ">= 0.98", 66, 1, rolled},
        {"stage", "swell", ">= 0.95", 67, 1, swell},
        {"stage", "count-in", "", 68, 1, countIn},
        {"stage", "two-drums", "", 69, 1, twoDrums},
    };
    return tiers;
}
} // namespace tarry::bench
