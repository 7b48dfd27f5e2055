#pragma once
#include "Hall/Scene.h"
#include "Hall/Stage.h"

#include <cstdint>

/// Who stands where in a scene, and when they play: all that the truth follows from.
namespace tarry::hall
{
// Streams of random figures. What is laid out and when it is struck does not depend on the sample rate.
enum Stream : std::uint64_t
{
    layout = 1,
    drums,
    playing,
    sounding,
    noise,
    others = 100,
    elsewhere = 1000
};

inline constexpr double leadIn = 0.5; // s before the first hit

/// The hall with one player and the microphones: the spot first, then the room's channels.
struct Setting
{
    Enclosure hall;
    Player player;
    Point strikeZone; ///< m from the middle of the head
    std::vector<Microphone> microphones;
};

/// A hall, a player and microphones, drawn from the seed; `offset` gives another set of the same seed.
[[nodiscard]] Setting makeSetting(const SceneSpec& spec, Sticks sticks, std::uint64_t offset);

/// `hits` strokes; no two alike in level or place.
[[nodiscard]] std::vector<Stroke> play(const SceneSpec& spec, int hits, Point zone, Random& random);

/// A neighbour's strokes, at times of its own between `from` and `to`, s.
[[nodiscard]] std::vector<Stroke> playAlong(int hits, double radius, double from, double to, Random& random);

/// `radius` m away at `angle`, `z` m up.
[[nodiscard]] Point onCircle(double angle, double radius, double z = 0.0);
[[nodiscard]] double fromDb(double db); ///< amplitude
} // namespace tarry::hall
