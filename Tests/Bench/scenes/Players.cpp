#include "Players.h"

#include <array>
#include <cmath>
#include <numbers>

namespace tarry::bench
{
namespace
{
using hall::Random;
constexpr double twoPi = 2.0 * std::numbers::pi;
} // namespace

Kind mixedKind(unsigned seed)
{
    constexpr std::array kinds{Kind::drum, Kind::low, Kind::drum, Kind::hand, Kind::drum, Kind::melodic};
    return kinds[seed % kinds.size()];
}

Player aPlayer(Kind kind, unsigned seed, const Material& material)
{
    Random random(seed, Stream::playing);
    Player player{material.sounds.pick(kind, setOf(seed), seed), {}};
    player.strokes = play(*player.instrument, 8, 0.5, random.between(0.5, 0.85), random);
    return player;
}

double lengthOf(const std::vector<Stroke>& strokes, const Space& space)
{
    return strokes.back().time + 1.0 + 0.3 * space.t60();
}

void finishSolo(Example& example, const Take& take, const Setup& setup, const std::vector<Stroke>& strokes,
                Take::Finish finish)
{
    Random random(example.seed, Stream::finishing);
    finish.inverted = random.coin();
    finish.spotNoiseDb = random.between(-78.0, -55.0);
    finish.roomNoiseDb = random.between(-62.0, -42.0);
    example.polarity = finish.inverted ? Polarity::inverted : Polarity::normal;
    example.lag = setup.lag();
    for (const auto& stroke : strokes) example.hitTimes.push_back(stroke.time + setup.toSpot(setup.player));
    take.finish(example, finish, random);
}

Example soloist(const Tier& tier, unsigned seed, const Material& material, Kind kind, MakeSpace space)
{
    Random random(seed, Stream::layout), sounding(seed, Stream::sounding);
    const auto setup = setUp(space(random), random);
    const auto player = aPlayer(kind, seed, material);
    const double seconds = lengthOf(player.strokes, *setup.space);
    Take take(seconds, 1, 1);
    take.add(take.hear(setup, setup.player, sound(*player.instrument, player.strokes, seconds), sounding), 1.0);
    auto example = begin(tier, seed);
    example.name += " " + player.instrument->name;
    finishSolo(example, take, setup, player.strokes, {});
    return example;
}

Example roll(const Tier& tier, unsigned seed, const Material& material, MakeSpace space)
{
    Random random(seed, Stream::layout), sounding(seed, Stream::sounding);
    const auto setup = setUp(space(random), random);
    const auto instrument = material.sounds.pick(Kind::drum, setOf(seed), seed);
    const auto strokes = play(*instrument, 40, 0.5, random.between(0.060, 0.090), random);
    const double seconds = lengthOf(strokes, *setup.space);
    Take take(seconds, 1, 1);
    take.add(take.hear(setup, setup.player, sound(*instrument, strokes, seconds), sounding), 1.0);
    auto example = begin(tier, seed);
    example.name += " " + instrument->name;
    finishSolo(example, take, setup, strokes, {});
    return example;
}

Example beside(const Tier& tier, unsigned seed, const Material& material, Kind kind, MakeSpace space, double decibels)
{
    Random random(seed, Stream::layout), sounding(seed, Stream::sounding), others(seed, Stream::others);
    const auto setup = setUp(space(random), random);
    const auto player = aPlayer(kind, seed, material);
    const double seconds = lengthOf(player.strokes, *setup.space);
    Take take(seconds, 1, 1);
    const auto own = take.hear(setup, setup.player, sound(*player.instrument, player.strokes, seconds), sounding);
    take.add(own, 1.0);

    const auto instrument = material.sounds.pick(Kind::drum, setOf(seed), seed * 7 + 3);
    const auto strokes =
        playFreely(*instrument, others.wholeBetween(7, 10), 0.3, player.strokes.back().time + 0.3, others);
    const auto place = placeNear(setup, setup.player, others.between(0.0, twoPi), others.between(1.2, 5.0), others);
    const auto heard = take.hear(setup, place, sound(*instrument, strokes, seconds), sounding);
    const double perHit = take.loudness(own, 1) / static_cast<double>(player.strokes.size()) /
                          (take.loudness(heard, 1) / static_cast<double>(strokes.size()));
    take.add(heard, fromDb(decibels) * std::sqrt(perHit));

    auto example = begin(tier, seed);
    example.name += " " + player.instrument->name + " beside " + instrument->name;
    finishSolo(example, take, setup, player.strokes, {});
    return example;
}

Example amidOrchestra(const Tier& tier, unsigned seed, const Material& material, MakeSpace space, double decibels)
{
    Random random(seed, Stream::layout), sounding(seed, Stream::sounding), others(seed, Stream::others);
    const auto setup = setUp(space(random), random);
    const auto player = aPlayer(mixedKind(seed), seed, material);
    const double seconds = lengthOf(player.strokes, *setup.space);
    Take take(seconds, 1, 1);
    const auto own = take.hear(setup, setup.player, sound(*player.instrument, player.strokes, seconds), sounding);
    take.add(own, 1.0);

    Heard all;
    for (const auto& section : material.sounds.orchestra(setOf(seed), seconds, others))
    {
        const auto place = placeNear(setup, setup.player, others.between(0.0, twoPi), others.between(2.0, 8.0), others);
        auto heard = take.hear(setup, place, section, sounding);
        const double level = fromDb(others.between(-3.0, 3.0)) / std::sqrt(take.loudness(heard, 1));
        if (all.empty()) all.resize(heard.size(), hall::Spectrum(heard.front().size()));
        for (std::size_t m = 0; m < heard.size(); ++m)
            for (std::size_t bin = 0; bin < heard[m].size(); ++bin) all[m][bin] += level * heard[m][bin];
    }
    constexpr double hitLasts = 0.3; // s
    const double hits = take.loudness(own, 1) / (hitLasts * static_cast<double>(player.strokes.size()));
    take.add(all, fromDb(decibels) * std::sqrt(hits / (take.loudness(all, 1) / seconds)));

    auto example = begin(tier, seed);
    example.name += " " + player.instrument->name;
    finishSolo(example, take, setup, player.strokes, {});
    return example;
}
} // namespace tarry::bench
