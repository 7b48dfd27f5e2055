#pragma once
#include "Hall/Enclosure.h"

#include <memory>

namespace tarry::bench
{
/// An omnidirectional or leaning microphone.
struct Microphone
{
    hall::Point place;
    hall::Pattern hearing;
};

/// Something in which sound goes from a place to a microphone.
class Space
{
public:
    virtual ~Space() = default;
    [[nodiscard]] virtual double speed() const = 0;     ///< of sound, m/s
    [[nodiscard]] virtual double t60() const = 0;       ///< s
    [[nodiscard]] virtual hall::Point size() const = 0; ///< m

    /// What the microphone hears of an impulse at `source`: the direct sound at distance / speed(), 1 at 1 m, and all
    /// that follows it. At soundRate.
    [[nodiscard]] virtual std::vector<double> response(hall::Point source, hall::Pattern radiation,
                                                       const Microphone& microphone, hall::Random& random) const = 0;
};

/// Source/Hall's hall: mirror images, octave bands, ISO 9613-1. Everything about it drawn wide.
[[nodiscard]] std::shared_ptr<const Space> makeHallSpace(hall::Random& random);

/// A hall of another making than Source/Hall's, so that no estimator is judged by its own halls alone: no box and no
/// mirror images, but a floor and sparse clusters of early reflections that come ever denser (Poisson, after the t² law
/// of room acoustics: Kuttruff, Room Acoustics, chapter 4), rough surfaces that smear each of them, a statistical tail
/// that loses its treble by a low-pass that closes over time, air as a low-pass by distance, and sources that send
/// their treble forwards.
[[nodiscard]] std::shared_ptr<const Space> makeOtherSpace(hall::Random& random);
} // namespace tarry::bench
