#pragma once
#include "Hall/Random.h"

#include <vector>

/// The hall itself: a box with walls that reflect, and the air in it.
namespace tarry::hall
{
/// m; x along the hall, y across, z up.
struct Point
{
    double x = 0.0, y = 0.0, z = 0.0;

    friend Point operator+(Point a, Point b) { return {a.x + b.x, a.y + b.y, a.z + b.z}; }
    friend Point operator-(Point a, Point b) { return {a.x - b.x, a.y - b.y, a.z - b.z}; }
    friend Point operator*(double k, Point a) { return {k * a.x, k * a.y, k * a.z}; }
    friend double dot(Point a, Point b) { return a.x * b.x + a.y * b.y + a.z * b.z; }
    friend double length(Point a) { return std::sqrt(dot(a, a)); }
};

/// How strongly something radiates or hears in a direction: 1 - lean + lean cos(angle to axis). 0 is a sphere, 0.5 a
/// cardioid.
struct Pattern
{
    Point axis{0.0, 0.0, 1.0}; ///< of length 1
    double lean = 0.0;         ///< 0 to 1

    [[nodiscard]] double gain(Point direction) const; ///< amplitude towards `direction`, of any length
    [[nodiscard]] double meanEnergy() const;          ///< energy, averaged over all directions
};

/// How air damps sound (ISO 9613-1, equations 3 to 5), at standard pressure.
class Air
{
public:
    Air(double celsius, double humidityPercent);
    [[nodiscard]] double absorption(double hertz) const;          ///< dB/m
    [[nodiscard]] double gain(double hertz, double metres) const; ///< pressure that is left, 0 to 1

private:
    double oxygen, nitrogen;                // Hz, at which their molecules relax
    double classical, byOxygen, byNitrogen; // how much each takes
};

struct Enclosure
{
    Point size{24.0, 16.0, 9.0};
    double t60 = 1.6;      ///< s at 700 Hz
    double celsius = 20.0; ///< air temperature
    double humidity = 50.0;
    double scattering = 0.15; ///< share of the reflected energy that leaves the mirror's direction, at each wall

    [[nodiscard]] double volume() const;
    [[nodiscard]] double surface() const;
    [[nodiscard]] double speed() const; ///< of sound, m/s
    [[nodiscard]] Air air() const { return {celsius, humidity}; }

    /// Pressure reflected by a wall, 0 to 1: from t60 after Eyring, with more absorbed above 2 kHz and less below 250
    /// Hz.
    [[nodiscard]] double reflection(double hertz) const;
    /// s; the walls and the air together (Eyring 1930, with 4mV for the air).
    [[nodiscard]] double decayTime(double hertz) const;
};

/// One mirror image of a source (Allen and Berkley 1979).
struct Image
{
    double distance = 0.0; ///< m to the microphone
    int order = 0;         ///< reflections on the way; 0 is the direct sound
    Point arriving;        ///< from the microphone towards the image, m
    Point leaving;         ///< from the real source, the way the sound sets out, m
};

/// Every image up to `reach` metres from the microphone, the direct sound among them.
[[nodiscard]] std::vector<Image> imagesOf(const Enclosure& hall, Point source, Point microphone, double reach);

/// What the hall answers to an impulse at `source` after the direct sound: images for the first 120 ms, then (and from
/// the beginning for what the walls scatter) noise that decays as each octave does. A sample is pressure relative to
/// that of the same impulse 1 m away, time 0 is the impulse. Up to `seconds` long.
[[nodiscard]] std::vector<double> reflectionsOf(const Enclosure& hall, Point source, Pattern radiation,
                                                Point microphone, Pattern hearing, double sampleRate, double seconds,
                                                Random& random);
} // namespace tarry::hall
