#pragma once
#include "Hall/Spectra.h"
#include "Sounds.h"
#include "Space.h"

#include <functional>

/// What the families of scenes have in common: someone plays somewhere, microphones hear it, tracks come of it.
namespace tarry::bench
{
/// Where everything stands.
struct Setup
{
    std::shared_ptr<const Space> space;
    hall::Point player;                   ///< where the instrument is struck
    hall::Pattern radiation;              ///< of the instrument
    std::vector<Microphone> spots, rooms; ///< sides and channels

    /// s by which room channel 0 hears `source` later than a spot side does.
    [[nodiscard]] double lag(hall::Point source, std::size_t side = 0) const;
    [[nodiscard]] double lag() const { return lag(player); }
    /// s from `source` to the first spot.
    [[nodiscard]] double toSpot(hall::Point source) const;
};

/// A player 3 to 20 m from a room microphone, as far as the space allows, and one spot close by.
[[nodiscard]] Setup setUp(std::shared_ptr<const Space> space, hall::Random& random);

/// A place `away` m from `from` at an angle, kept inside the space, at a player's height.
[[nodiscard]] hall::Point placeNear(const Setup& setup, hall::Point from, double angle, double away,
                                    hall::Random& random);

struct Stroke
{
    double time = 0.0;   ///< s
    std::size_t hit = 0; ///< which of the instrument's
    double gain = 1.0;
};

/// `hits` strokes from `from` s on, a beat of `beat` s apart, no two alike.
[[nodiscard]] std::vector<Stroke> play(const Instrument& instrument, int hits, double from, double beat,
                                       hall::Random& random);
/// At times of their own between `from` and `to`.
[[nodiscard]] std::vector<Stroke> playFreely(const Instrument& instrument, int hits, double from, double to,
                                             hall::Random& random);

/// What the instrument sounds like at 1 m.
[[nodiscard]] std::vector<double> sound(const Instrument& instrument, const std::vector<Stroke>& strokes,
                                        double seconds);

/// What every microphone hears of something, spots first, as spectra of one size.
using Heard = std::vector<hall::Spectrum>;

/// Tracks in the making.
class Take
{
public:
    Take(double seconds, std::size_t spots, std::size_t rooms);

    /// What the setup's microphones hear of `dry` at `source`.
    [[nodiscard]] Heard hear(const Setup& setup, hall::Point source, const std::vector<double>& dry,
                             hall::Random& random) const;
    /// The same through responses, one for each microphone.
    [[nodiscard]] Heard through(const std::vector<std::vector<double>>& responses,
                                const std::vector<double>& dry) const;
    void add(const Heard& heard, double gain);
    /// Weighted energy in one microphone, spots first.
    [[nodiscard]] double loudness(const Heard& heard, std::size_t microphone) const;

    struct Finish
    {
        bool inverted = false; ///< the spots' polarity
        bool coloured = true;  ///< the spots have an equaliser's and the instrument's near colour
        double spotNoiseDb = -68.0, roomNoiseDb = -55.0;    ///< rms under the loudest sample
        std::function<void(std::vector<double>&)> spotOnly; ///< put on each spot, loudest sample 1, before the noise
    };
    /// Levels, colour and noise; writes the example's tracks.
    void finish(Example& example, const Finish& finish, hall::Random& random) const;

private:
    std::size_t spotCount, frames, size;
    Heard tracks;
};

/// An example of this tier: family, name, seed and rate filled in.
[[nodiscard]] Example begin(const Tier& tier, unsigned seed);

[[nodiscard]] double fromDb(double decibels); ///< amplitude

/// A peaking equaliser of `gainDb` at `hertz` (Bristow-Johnson's Audio EQ Cookbook), in place.
void peaking(std::vector<double>& signal, double hertz, double quality, double gainDb);
} // namespace tarry::bench
