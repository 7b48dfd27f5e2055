#pragma once
#include "Take.h"

/// Scenes that several families share: they differ in the space and in who plays.
namespace tarry::bench
{
using MakeSpace = std::shared_ptr<const Space> (*)(hall::Random&);

/// Streams of random figures of one scene: to draw more of one leaves the others as they were.
enum Stream : std::uint64_t
{
    layout = 1,
    playing,
    sounding,
    finishing,
    others
};

/// One player of a scene that is about to be recorded.
struct Player
{
    std::shared_ptr<const Instrument> instrument;
    std::vector<Stroke> strokes;
};

/// A drum, bass drum, hand drum or melodic percussion: what a seed of a mixed tier plays.
[[nodiscard]] Kind mixedKind(unsigned seed);

/// Eight or so strokes of an instrument of the seed's set.
[[nodiscard]] Player aPlayer(Kind kind, unsigned seed, const Material& material);
/// s until a player's last stroke has died away.
[[nodiscard]] double lengthOf(const std::vector<Stroke>& strokes, const Space& space);

/// One player alone in a space.
[[nodiscard]] Example soloist(const Tier& tier, unsigned seed, const Material& material, Kind kind, MakeSpace space);

/// Strokes 60 to 90 ms apart, hand to hand.
[[nodiscard]] Example roll(const Tier& tier, unsigned seed, const Material& material, MakeSpace space);

/// Another player at their own times, `decibels` against the first in the room, hit for hit.
[[nodiscard]] Example beside(const Tier& tier, unsigned seed, const Material& material, Kind kind, MakeSpace space,
                             double decibels);

/// Strings and brass play all around: their level in the room `decibels` above that of the hits' first 300 ms.
[[nodiscard]] Example amidOrchestra(const Tier& tier, unsigned seed, const Material& material, MakeSpace space,
                                    double decibels);

/// The usual last step: truth of a single player, polarity drawn, tracks finished.
void finishSolo(Example& example, const Take& take, const Setup& setup, const std::vector<Stroke>& strokes,
                Take::Finish finish);
} // namespace tarry::bench
