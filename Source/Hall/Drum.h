#pragma once
#include "Hall/Enclosure.h"
#include "Hall/Random.h"

#include <array>
#include <string>
#include <vector>

/// Drums that are not points. The head's low modes, the stick's contact and the many small parts of head, rim and shell
/// that rattle after it radiate from different places, and near and far microphones hear them in different measure.
namespace tarry::hall
{
enum class Sticks
{
    hard, ///< wooden sticks
    soft, ///< felt mallets on a low drum
    clap  ///< a clapper: two boards, no head
};

/// A group of radiators that share the hall's response, set up in one place.
enum class Part
{
    head,
    stick,
    body
};
inline constexpr std::array allParts{Part::head, Part::stick, Part::body};

/// Where a drum's part sits, m from the middle of its head, and how it radiates into the hall.
[[nodiscard]] Point placeOf(Part part, double depth);
[[nodiscard]] Pattern patternOf(Part part);

struct Drum
{
    std::string words; ///< what it is, in plain words
    Sticks sticks = Sticks::hard;
    double fundamental = 140.0; ///< Hz
    double radius = 0.18;       ///< m
    double depth = 0.25;        ///< m, of the shell
    double ring = 0.5;          ///< s, T60 of the fundamental
    double contact = 1e-3;      ///< s, that the stick stays on the head
    double stickRise = 1e-4;    ///< s, in which the contact noise comes up
    double stickDecay = 2e-3;   ///< s
    double stickLow = 900.0;    ///< Hz, band of the contact noise
    double stickHigh = 9000.0;  ///< Hz
    double stickLevel = 0.5;    ///< peak against the head's, far away
    double bodyLevel = 0.4;
    double bodyDecay = 0.02; ///< s

    /// A small part of head, rim or shell, which sounds when the wave from the strike has reached it.
    struct Spot
    {
        Point offset;                      ///< m from the middle of the head
        double low = 300.0, high = 6000.0; ///< Hz
        double level = 1.0;
        double nearGain = 1.0, farGain = 1.0;
    };
    std::vector<Spot> spots;

    std::vector<double> modeTuning;   ///< by how much each mode is off its ideal frequency
    std::array<double, 2> nearTilt{}; ///< dB: stick, body in the near microphone against the far
};

/// A drum of its kind; `extended` as in SceneSpec.
[[nodiscard]] Drum makeDrum(Sticks sticks, double extended, Random& random);

/// One source of sound in one hit.
struct Radiator
{
    Part part = Part::head;
    Point offset;       ///< m from the middle of the head
    double delay = 0.0; ///< s after the strike
    double nearGain = 1.0;
    double farGain = 1.0;
    std::vector<double> signal; ///< pressure at 1 m; positive pushes
};

/// One hit at `strike` (m from the middle of the head). `toNear`, `toFar`: from the head to the microphones, m.
[[nodiscard]] std::vector<Radiator> strikeDrum(const Drum& drum, Point strike, double level, Point toNear, Point toFar,
                                               double sampleRate, Random& random);
} // namespace tarry::hall
