#pragma once
#include "Core/Types.h"

#include <vector>

namespace tarry
{
/// Delays and turns over one or two channels: windowed sinc between samples (Laakso, Välimäki, Karjalainen, Laine,
/// "Splitting the unit delay", IEEE SPM 1996), bit for bit at whole samples, crossfaded when lag or polarity change.
class Delay
{
public:
    /// Taps of the windowed sinc. A lag below halfLength samples (latency included) falls to the nearest whole sample.
    static constexpr int length = 80;
    static constexpr int halfLength = length / 2;

    /// Allocates. maxDelay, latency and fade in seconds. [setup]
    /// latency: whole samples by which everything is held back, so that the spot can also move earlier by as much.
    void prepare(double sampleRate, int channels, double maxDelay, double latency, double fade = 0.015);

    /// Where to go. A change is crossfaded over `fade`; a change during a fade waits for its end. [audio]
    /// Returns the delay that will be heard, in samples relative to the latency (it can differ from the one asked for:
    /// see `length`, and whole).
    double setAlignment(const Alignment& wanted, bool wholeSamples) noexcept;

    /// Takes the wanted alignment at once, with no fade: before the first block only. [audio]
    void jump() noexcept;

    /// In place, any number of frames. [audio]
    void process(float* const* channels, int frames) noexcept;

    /// Silence in the line, wanted alignment kept. [audio]
    void reset() noexcept;

    [[nodiscard]] int latencySamples() const { return latency; }

private:
    int latency = 0;
};
} // namespace tarry
