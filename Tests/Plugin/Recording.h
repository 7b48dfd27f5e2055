#pragma once
#include "Core/Ground/Types.h"

#include <cstddef>
#include <vector>

namespace tarry::test
{
/// A made-up spot and room of known lag: bursts of noise, and in the room the same bursts later, fainter, and followed
/// by a tail of scattered echoes. The lag is a whole number of samples, so that no filter is needed to make it.
struct Recording
{
    double sampleRate = 48000.0; ///< Hz
    std::vector<std::vector<float>> spot, room;

    [[nodiscard]] std::size_t frames() const { return spot.front().size(); }
};

struct RecordingPlan
{
    unsigned seed = 1;
    double sampleRate = 48000.0; ///< Hz
    double lag = 0.031;          ///< s, rounded to a whole sample; may be negative
    Polarity polarity = Polarity::normal;
    int hits = 10; ///< 0.4 s apart
    int spotChannels = 1, roomChannels = 1;
};

[[nodiscard]] Recording makeRecording(const RecordingPlan& plan);
} // namespace tarry::test
