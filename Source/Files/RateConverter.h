#pragma once
#include "Files/AudioReader.h"

#include <memory>
#include <vector>

struct SRC_STATE_tag; // libsamplerate's own

namespace tarry
{
/// Reads a file at another sample rate, block by block, by libsamplerate's band-limited sinc, which adds no delay: time
/// zero stays time zero. At the file's own rate the samples pass untouched.
class RateConverter
{
public:
    /// `source` has to outlive this. sampleRate in Hz.
    RateConverter(AudioReader& source, double sampleRate);

    /// The next frames, one buffer a channel. Returns how many; fewer than asked for only at the end.
    int read(float* const* channels, int frames);

private:
    struct Closer
    {
        void operator()(SRC_STATE_tag* state) const noexcept;
    };

    void refill();

    AudioReader& source;
    double ratio;
    std::unique_ptr<SRC_STATE_tag, Closer> converter; ///< none: same rate
    std::vector<std::vector<float>> block;            ///< as read, channel by channel
    std::vector<float> waiting, converted;            ///< interleaved
    std::size_t waitingFrom = 0, waitingFrames = 0;
    bool atEnd = false;
};
} // namespace tarry
