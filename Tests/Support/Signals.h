#pragma once

#include <cstdint>
#include <string>
#include <vector>

/// Made-up signals whose every figure is known, without a hall: see Source/Hall for those.
namespace tarry::test
{
using Samples = std::vector<float>;

/// Amplitude of a level in dB.
double gainOf(double decibels);

/// Gaussian noise of that rms.
Samples noise(std::size_t frames, unsigned seed, double rms);

/// sin(2 pi hertz t + phase), t = 0 at the first sample.
Samples sine(std::size_t frames, double hertz, double sampleRate, double amplitude, double phase = 0.0);

/// Strokes in closed form, so that they can be worked out at any time and rate: each is a sum of `partials` damped
/// sines that begin together from nothing, 80 Hz to 12 kHz, with frequencies, signs and strengths drawn anew from the
/// seed for each stroke.
struct Strokes
{
    std::vector<double> times; ///< s, when each begins
    unsigned seed = 1;
    int partials = 40;
    double level = 0.3;     ///< about the peak
    double lowHertz = 80.0; ///< the range of the partials
    double highHertz = 12000.0;
};

/// Adds the strokes, each `delay` seconds later and times `gain`. Exact for any fraction of a sample.
void addStrokes(Samples& to, double sampleRate, const Strokes& strokes, double delay = 0.0, double gain = 1.0);

/// n times, `apart` seconds apart, the first at `first`.
std::vector<double> evenTimes(int n, double first, double apart);

void scale(Samples& samples, double gain);
void addTo(Samples& samples, const Samples& other, double gain = 1.0);
/// Later by whole samples, silence before, of the same length.
Samples later(const Samples& samples, std::size_t frames);

/// A spot and its room with one honest lag: strokes, the same strokes `lag` later at `roomGain`, and each microphone's
/// own noise.
struct Take
{
    double sampleRate = 48000.0;
    double lag = 0.0;
    Samples spot, room;
};
Take makeTake(double sampleRate, double lag, const Strokes& strokes, double roomGain = 0.1, double noiseDb = -80.0);

/// Raw 32-bit floats, for other programs to read.
void writeRaw(const std::string& file, const Samples& samples);
} // namespace tarry::test
