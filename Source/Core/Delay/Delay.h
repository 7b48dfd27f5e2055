#pragma once
#include "Core/Ground/Types.h"

#include <algorithm>
#include <array>
#include <cstddef>
#include <vector>

namespace tarry
{
/// Delays and turns over any number of channels alike: windowed sinc between samples (Laakso, Välimäki, Karjalainen,
/// Laine, "Splitting the unit delay", IEEE SPM 1996), bit for bit at whole samples, crossfaded when lag or polarity
/// change. The output depends on the samples and on when setAlignment was called, never on the size of the blocks.
///
/// From DC to 20 kHz at 44.1 kHz and above: gain within 0.001 dB, delay within 0.0001 sample, error of the complex
/// response below -100 dB.
class Delay
{
public:
    /// Taps of the windowed sinc. A delay below halfLength samples (latency included) falls to the nearest whole
    /// sample.
    static constexpr int length = 80;
    static constexpr int halfLength = length / 2;

    /// Shape of the Kaiser window: at 44.1 kHz the widest that is still flat at 20 kHz.
    static constexpr double beta = 11.0;

    /// A delay this near to a whole sample, in seconds, is that whole sample: lags are kept in whole nanoseconds, so a
    /// whole-sample lag can be half of one away.
    static constexpr double wholeTolerance = 0.51e-9;

    /// Allocates. sampleRate in Hz; maxDelay, latency and fade in seconds, none below 0. [setup]
    /// latency, rounded to whole samples: everything is held back by it, so that the spot can also move earlier by as
    /// much. maxDelay comes on top of it. The latency can be made less, and this again, by setLatency.
    void prepare(double sampleRate, int channels, double maxDelay, double latency, double fade = 0.015);

    /// Where to go. A change is crossfaded over `fade`; a change during a fade waits for its end, and only the latest
    /// is then faded to. Cheap when nothing has changed: it may be called before every block. [audio]
    /// Returns the delay that will be heard, in samples relative to the latency. It differs from the one asked for
    /// where wholeSamples is set, where the delay is too short for the filter (see `length`) and at the ends of the
    /// range: latency and maxDelay.
    double setAlignment(const Alignment& wanted, bool wholeSamples) noexcept;

    /// Another latency, in samples, at most the one prepared for; a change is crossfaded with the alignment's, at the
    /// next setAlignment. [audio]
    void setLatency(int samples) noexcept { latency = std::clamp(samples, 0, mostLatency); }

    /// Takes the wanted alignment at once, with no fade: before the first block only. [audio]
    void jump() noexcept;

    /// In place, any number of frames. [audio]
    void process(float* const* channels, int frames) noexcept;

    /// Silence in the line, wanted alignment kept. [audio]
    void reset() noexcept;

    /// True while a crossfade runs. [audio]
    [[nodiscard]] bool isFading() const noexcept { return fadePosition < fadeGains.size(); }

    [[nodiscard]] int latencySamples() const { return latency; }

private:
    /// One place to read from the line.
    struct Tap
    {
        int whole = 0;         ///< samples
        double fraction = 0.0; ///< samples, 0 to below 1; 0: no filter, the sample itself
        Polarity polarity = Polarity::normal;
        std::array<float, length> kernel{}; ///< oldest sample first; filled only where fraction > 0

        [[nodiscard]] bool isAt(const Tap& other) const
        {
            return whole == other.whole && fraction == other.fraction && polarity == other.polarity;
        }
    };

    static constexpr std::size_t piece = 64; ///< frames that are worked on at once

    void write(float* line, const float* samples, std::size_t frames) const noexcept;
    void read(const Tap& tap, const float* line, float* samples, std::size_t frames) const noexcept;
    void startFade() noexcept;
    void endFade() noexcept;

    double rate = 0.0;
    int latency = 0, mostLatency = 0; ///< samples
    int longest = 0;                  ///< samples, without latency

    // Each channel's ring lies twice in a row, so that any window of it is one stretch of memory.
    std::vector<std::vector<float>> lines;
    std::size_t ringSize = 0; ///< a power of two
    std::size_t newest = 0;   ///< where the latest sample is

    Tap current, target, wanted;
    Alignment askedFor;
    bool askedForWhole = false;
    int askedForLatency = 0;
    std::vector<float> fadeGains; ///< the target's gain, sample by sample; the present one has what is left to 1
    std::size_t fadePosition = 0; ///< fadeGains.size(): no fade
};
} // namespace tarry
