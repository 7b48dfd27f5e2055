#pragma once
#include <atomic>
#include <cstdint>

namespace tarry::standalone
{
/// Where the files are being played: start, stop, loop and jumps, none of which may look like a hit. A jump into the
/// middle of a take makes spot and room begin at the same instant, which would be measured as a lag of nothing: so
/// jumps rise over 50 ms, ends fall over 20 ms, and between two rounds of a loop there is half a second of silence, in
/// which the room's answer to the last hit dies away. The very first sample is never faded: a hit may stand there.
class Cursor
{
public:
    static constexpr double rise = 0.050, fall = 0.020, gap = 0.5; ///< s

    /// Where to read, and how loud (linear). at < 0: silence.
    struct Step
    {
        std::int64_t at;
        float gain;
    };

    /// Stands at the start, at rest; keeps whether it loops. Audio must not be inside. [setup]
    void prepare(double sampleRate, std::int64_t frames) noexcept;

    void play(bool wanted) noexcept { wantsPlay.store(wanted, std::memory_order_relaxed); }     // [screen]
    void loop(bool wanted) noexcept { wantsLoop.store(wanted, std::memory_order_relaxed); }     // [screen]
    void seek(std::int64_t frame) noexcept { wantsAt.store(frame, std::memory_order_relaxed); } // [screen]

    [[nodiscard]] bool plays() const noexcept { return wantsPlay.load(std::memory_order_relaxed); }        // [screen]
    [[nodiscard]] bool loops() const noexcept { return wantsLoop.load(std::memory_order_relaxed); }        // [screen]
    [[nodiscard]] std::int64_t position() const noexcept { return shown.load(std::memory_order_relaxed); } // [screen]
    [[nodiscard]] std::int64_t frames() const noexcept { return length; }

    /// At each block's start: heeds what the screen wants. False where there is nothing to play and everything has
    /// died away. [audio]
    [[nodiscard]] bool begin() noexcept;
    [[nodiscard]] Step next() noexcept;                                    // [audio]
    void end() noexcept { shown.store(place, std::memory_order_relaxed); } // [audio]

private:
    void leave() noexcept;

    std::atomic<bool> wantsPlay{false}, wantsLoop{true};
    std::atomic<std::int64_t> wantsAt{-1}, shown{0};

    std::int64_t length = 0, place = 0, jumpTo = -1; // frames
    int riseFrames = 1, fallFrames = 1, gapFrames = 1;
    int rising = 0, falling = 0, silent = 0; // frames left of each
    bool playing = false;
};
} // namespace tarry::standalone
