#pragma once
#include "Hall/Drum.h"
#include "Hall/Enclosure.h"
#include "Hall/Spectra.h"

#include <vector>

/// Players and microphones in a hall, and what the microphones pick up.
namespace tarry::hall
{
struct Microphone
{
    Point place;
    Pattern hearing;
    double lowCut = 20.0; ///< Hz, -3 dB, first order
    bool close = false;   ///< on the player's own drum
};

struct Stroke
{
    double time = 0.0;  ///< s, when the stick meets the head
    Point strike;       ///< m from the middle of the head
    double level = 1.0; ///< linear
};

struct Player
{
    Drum drum;
    Point place; ///< middle of the head
    std::vector<Stroke> strokes;
    bool closeMiked = false; ///< `close` microphones stand at this drum and hear it so
};

/// s from the struck point to the microphone.
[[nodiscard]] double directTime(const Enclosure& hall, const Player& player, const Stroke& stroke,
                                const Microphone& microphone);

/// What each microphone picks up of one player, as a spectrum for transforms of `size`.
[[nodiscard]] std::vector<Spectrum> record(const Enclosure& hall, const Player& player,
                                           const std::vector<Microphone>& microphones, double sampleRate,
                                           std::size_t size, Random& random);
} // namespace tarry::hall
