#pragma once
#include "Core/Ground/Types.h"

#include <algorithm>
#include <cassert>
#include <cstdint>
#include <span>
#include <vector>

namespace tarry
{
/// One captured attack: the same stretch of every spot and room channel, `before` samples ahead of the attack's onset
/// and the rest after it. Storage is allocated by `resize` and reused.
class Hit
{
public:
    /// Allocates for the given shape. Not for the audio thread.
    void resize(int spotCount, int roomCount, int frameCount)
    {
        spots = spotCount;
        rooms = roomCount;
        frames = frameCount;
        samples.assign(static_cast<std::size_t>(spotCount + roomCount) * static_cast<std::size_t>(frameCount), 0.0F);
    }

    [[nodiscard]] std::span<const float> spot(int channel) const { return track(channel); }
    [[nodiscard]] std::span<const float> room(int channel) const { return track(spots + channel); }
    [[nodiscard]] std::span<float> spot(int channel) { return track(channel); }
    [[nodiscard]] std::span<float> room(int channel) { return track(spots + channel); }

    [[nodiscard]] int spotChannels() const { return spots; }
    [[nodiscard]] int roomChannels() const { return rooms; }
    [[nodiscard]] int size() const { return frames; }

    std::int64_t number = 0; ///< counts the attacks found since the stream began, from 0
    std::int64_t onset = 0;  ///< samples since the stream began, where the spot's attack was found
    unsigned generation = 0; ///< which measuring it belongs to: see Measuring::startOver
    int before = 0;          ///< samples of the window ahead of `onset`
    double sampleRate = 0.0; ///< Hz

private:
    [[nodiscard]] std::span<const float> track(int i) const
    {
        return {samples.data() + static_cast<std::size_t>(i) * static_cast<std::size_t>(frames),
                static_cast<std::size_t>(frames)};
    }
    [[nodiscard]] std::span<float> track(int i)
    {
        return {samples.data() + static_cast<std::size_t>(i) * static_cast<std::size_t>(frames),
                static_cast<std::size_t>(frames)};
    }

    int spots = 0, rooms = 0, frames = 0;
    std::vector<float> samples; // channel after channel: spots, then rooms
};
} // namespace tarry
