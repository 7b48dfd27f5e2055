#include "Players.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>

namespace tarry::bench
{
namespace
{
using hall::Random;

/// Five to eight players stand around one spot. Each is as loud in it as the others (within 1 dB), but the first is
/// `louder` dB above them, or each has a level of its own.
struct Levels
{
    double louder = 0.0;
    bool all = false; ///< every level drawn from 12 dB
};

Example section(const Tier& tier, unsigned seed, const Material& material, bool together, Levels levels)
{
    Random random(seed, Stream::layout), sounding(seed, Stream::sounding), others(seed, Stream::others);
    auto setup = setUp(random.coin() ? makeHallSpace(random) : makeOtherSpace(random), random);
    setup.spots.front().hearing.lean *= 0.5; // a section's microphone
    const int count = others.wholeBetween(5, 8);
    const double radius = others.between(0.8, 3.0), turn = others.between(0.0, 2.0 * std::numbers::pi);
    const hall::Point middle = setup.spots.front().place;
    const Kind kind = seed % 4 == 3 ? Kind::hand : Kind::drum;

    const auto lead = aPlayer(kind, seed, material);
    const double seconds = lengthOf(lead.strokes, *setup.space);
    Take take(seconds, 1, 1);
    double loudest = -99.0, next = -99.0;
    auto example = begin(tier, seed);
    for (int i = 0; i < count; ++i)
    {
        const auto instrument =
            i == 0 ? lead.instrument : material.sounds.pick(kind, setOf(seed), seed + 5 * static_cast<unsigned>(i));
        auto strokes = lead.strokes;
        if (i > 0 && !together)
            strokes =
                playFreely(*instrument, 8 + others.wholeBetween(-1, 1), 0.3, lead.strokes.back().time + 0.3, others);
        else if (i > 0)
            for (auto& stroke : strokes) // good players are together within some 20 ms
            {
                stroke.time += 0.012 * std::clamp(others.gauss(), -2.5, 2.5);
                stroke.hit = stroke.hit % instrument->hits.size();
            }
        const double angle = turn + (i + others.between(-0.2, 0.2)) * 2.0 * std::numbers::pi / count;
        const auto place = placeNear(setup, middle, angle, radius * others.between(0.7, 1.4), others);
        const auto heard = take.hear(setup, place, sound(*instrument, strokes, seconds), sounding);
        const double decibels = levels.all ? others.between(-12.0, 0.0)
                                : i == 0   ? levels.louder
                                           : others.between(-1.0, 1.0);
        const double perHit = take.loudness(heard, 0) / static_cast<double>(strokes.size());
        take.add(heard, fromDb(decibels) / std::sqrt(perHit));
        if (decibels > loudest)
        {
            next = loudest;
            loudest = decibels;
            example.louderLag = setup.lag(place);
        }
        else
            next = std::max(next, decibels);
    }
    example.louderDb = loudest - next;
    example.name += " of " + std::to_string(count);
    Take::Finish finish;
    finish.inverted = others.coin();
    finish.roomNoiseDb = others.between(-62.0, -45.0);
    take.finish(example, finish, others);
    return example;
}

Example together(const Tier& tier, unsigned seed, const Material& material)
{
    return section(tier, seed, material, true, {});
}

Example apart(const Tier& tier, unsigned seed, const Material& material)
{
    return section(tier, seed, material, false, {});
}

template <int decibels>
Example louder(const Tier& tier, unsigned seed, const Material& material)
{
    return section(tier, seed, material, seed % 2 == 0, {decibels, false});
}

Example ratios(const Tier& tier, unsigned seed, const Material& material)
{
    return section(tier, seed, material, seed % 2 == 0, {0.0, true});
}
} // namespace

const std::vector<Tier>& sectionTiers()
{
    static const std::vector<Tier> tiers{
        {"sections", "together", ">= 0.95 not align", 80, 1, together},
        {"sections", "apart", ">= 0.95 not align", 81, 1, apart},
        {"sections", "louder-2", ">= 0.85 not align", 82, 0.5, louder<2>},
        {"sections", "louder-4", ">= 0.85 not align", 83, 0.5, louder<4>},
        {"sections", "louder-6", ">= 0.85 not align", 84, 0.5, louder<6>},
        {"sections", "louder-8", "", 85, 0.5, louder<8>},
        {"sections", "ratios", "", 86, 1, ratios},
    };
    return tiers;
}
} // namespace tarry::bench
