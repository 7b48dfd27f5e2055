#pragma once
#include "Core/Capture/Hit.h"
#include "Core/Capture/HitQueue.h"
#include "Core/Capture/OnsetDetector.h"
#include "Core/Ground/Settings.h"

#include <array>
#include <cstdint>
#include <vector>

namespace tarry
{
/// Finds attacks in the spot and copies the stretch around each, spot and room together, into a queue. The copying is
/// spread over the stretch that follows, so that no block is much dearer than another. What is found, and when it is
/// handed over, depends on the samples alone, never on how the stream is cut into blocks.
class HitCapture
{
public:
    /// Frames of a window that are copied with each frame of the stream: the longest window, 0.51 s, is out before the
    /// next attack, 40 ms later, can want its own.
    static constexpr int copiedAtOnce = 16;

    /// Allocates; throws std::invalid_argument for settings out of range. [setup]
    void prepare(const MeasureSettings& settings);

    /// Feeds `frames` samples of every channel; see sound() for what counts as silence. [audio]
    void process(const float* const* spot, const float* const* room, int frames, HitQueue& queue) noexcept;

    /// Tells the capture that the stream has ended, so that hits whose window is not yet full are closed with
    /// silence. Only for streams that end (files). [audio]
    void finish(HitQueue& queue) noexcept;

    /// Forgets the stream, keeps the memory; hits from now on bear this generation. [audio]
    void reset(unsigned newGeneration = 0) noexcept;

    /// Samples from a hit's onset to the end of its window, and ahead of it.
    [[nodiscard]] int framesBefore() const { return before; }
    [[nodiscard]] int framesAfter() const { return after; }
    [[nodiscard]] int windowFrames() const { return before + after; }

private:
    void write(const float* const* spot, const float* const* room, int from, int frames) noexcept;
    void copyOn(HitQueue& queue) noexcept;
    void begin(HitQueue& queue) noexcept;
    [[nodiscard]] float* track(int channel) { return ring.data() + channel * ringFrames; }

    static constexpr int maxPending = 16; // attacks are at least 40 ms apart, a window ends 0.3 s after its own

    OnsetDetector detector;
    int before = 0, after = 0;
    int spotCount = 1, roomCount = 1;
    double rate = 48000.0;
    std::vector<float> ring; // channel after channel (spots, then rooms), ringFrames each
    std::int64_t ringFrames = 0, position = 0, hitsFound = 0;
    std::array<std::int64_t, maxPending> pending{}; // onsets whose window is not full yet, oldest first
    int pendingCount = 0;
    Hit* copying = nullptr; // the queue's, not handed over yet
    std::int64_t copyStart = 0;
    int copied = 0; // frames
    unsigned generation = 0;
};
} // namespace tarry
