#include "Players.h"

#include <algorithm>
#include <cmath>
#include <numbers>

/// A drum is not a point: the microphone at its skin and the one in the hall hear different parts of it, and no single
/// impulse response joins them. The skin is struck in one place; from there a bending wave, slower than sound in air
/// (thin plates and skins: some 100 m/s; from memory of Fletcher & Rossing, The Physics of Musical Instruments, ch. 3
/// and 18), sets off patches of skin and shell, each with its own colour.
namespace tarry::bench
{
namespace
{
using hall::Point;
using hall::Random;

struct Patch
{
    Point place;
    double delay = 0.0, gain = 1.0; ///< s after the stroke
    bool inverted = false;
    double hertz[2], gainDb[2];
};

/// The struck place first; the others around it, within the drum's size.
std::vector<Patch> drawBody(Point struck, Random& random)
{
    const double size = random.between(0.25, 0.7), speed = random.logBetween(70.0, 250.0);
    std::vector<Patch> patches{{struck, 0.0, 1.0, false, {1000.0, 1000.0}, {0.0, 0.0}}};
    const int count = random.wholeBetween(4, 7);
    for (int i = 0; i < count; ++i)
    {
        Patch patch;
        const double angle = random.between(0.0, 2.0 * std::numbers::pi), away = size * random.between(0.3, 1.0);
        patch.place = struck + Point{away * std::cos(angle), away * std::sin(angle), random.between(-0.4, 0.0) * size};
        patch.delay = away / speed;
        patch.gain = fromDb(random.between(-12.0, 3.0));
        patch.inverted = random.coin();
        for (int c = 0; c < 2; ++c)
        {
            patch.hertz[c] = random.logBetween(100.0, 6000.0);
            patch.gainDb[c] = random.between(-10.0, 10.0);
        }
        patches.push_back(patch);
    }
    return patches;
}

std::vector<double> heardOf(const Patch& patch, const std::vector<double>& dry)
{
    std::vector<double> sound(dry.size(), 0.0);
    hall::addAt(sound, dry, patch.delay * soundRate, patch.inverted ? -patch.gain : patch.gain);
    for (int c = 0; c < 2; ++c)
        if (patch.gainDb[c] != 0.0) peaking(sound, patch.hertz[c], 0.7, patch.gainDb[c]);
    return sound;
}

Example body(const Tier& tier, unsigned seed, const Material& material, Kind kind, bool neighbour)
{
    Random random(seed, Stream::layout), sounding(seed, Stream::sounding), others(seed, Stream::others);
    auto setup = setUp(random.coin() ? makeHallSpace(random) : makeOtherSpace(random), random);
    const auto player = aPlayer(kind, seed, material);
    const double seconds = lengthOf(player.strokes, *setup.space);
    Take take(seconds, 1, 1);
    const auto dry = sound(*player.instrument, player.strokes, seconds);
    Heard own;
    for (const auto& patch : drawBody(setup.player, others))
    {
        const auto heard = take.hear(setup, patch.place, heardOf(patch, dry), sounding);
        if (own.empty())
            own = heard;
        else
            for (std::size_t m = 0; m < own.size(); ++m)
                for (std::size_t bin = 0; bin < own[m].size(); ++bin) own[m][bin] += heard[m][bin];
    }
    take.add(own, 1.0);
    auto example = begin(tier, seed);
    example.name += " " + player.instrument->name;
    if (neighbour)
    {
        const auto instrument = material.sounds.pick(Kind::drum, setOf(seed), seed * 7 + 3);
        const auto strokes =
            playFreely(*instrument, others.wholeBetween(6, 14), 0.3, player.strokes.back().time + 0.3, others);
        const auto place = placeNear(setup, setup.player, others.between(0.0, 2.0 * std::numbers::pi),
                                     others.between(0.6, 3.0), others);
        const auto heard = take.hear(setup, place, sound(*instrument, strokes, seconds), sounding);
        const double perHit = take.loudness(own, 1) / static_cast<double>(player.strokes.size()) /
                              (take.loudness(heard, 1) / static_cast<double>(strokes.size()));
        take.add(heard, fromDb(others.between(-10.0, 2.0)) * std::sqrt(perHit));
        example.name += " beside " + instrument->name;
    }
    finishSolo(example, take, setup, player.strokes, {});
    return example;
}

template <Kind kind, bool neighbour>
Example make(const Tier& tier, unsigned seed, const Material& material)
{
    return body(tier, seed, material, kind, neighbour);
}
} // namespace

const std::vector<Tier>& bodyTiers()
{
    static const std::vector<Tier> tiers{
        {"bodies", "body-drum", ">= 0.97", 150, 1, make<Kind::drum, false>},
        {"bodies", "body-low", "", 151, 1, make<Kind::low, false>},
        {"bodies", "body-neighbour", "", 152, 1, make<Kind::drum, true>},
    };
    return tiers;
}
} // namespace tarry::bench
