#pragma once
#include "Core/Types.h"
#include "Plugin/Follow.h"

#include <array>
#include <atomic>
#include <cstdint>
#include <mutex>
#include <optional>
#include <vector>

namespace tarry
{
/// The sound of a blind trial: switches between the aligned blend and the blend as recorded, equally loud, so that the
/// switch itself tells nothing.
///
/// Loudness (ITU-R BS.1770) is measured on passages of 10 s: audio fills one, the worker renders both blends of it and
/// measures them, the louder one is to be turned down, and the next passage begins. New gains count from the next
/// presentation on. Every switch is the same dip: out, a silence in which the sides change, in; also where the side
/// stays the same.
class BlindSwitch
{
public:
    static constexpr double passageSeconds = 10.0;
    static constexpr double dipSeconds = 0.015;    ///< out, and in again
    static constexpr double silenceSeconds = 0.02; ///< longer than the delay's own crossfade of 15 ms

    /// What the streams look like. maxDelay, lookAhead: s, as the engine's delays are prepared with.
    struct Shape
    {
        double sampleRate = 48000.0; ///< Hz
        int spotChannels = 1, roomChannels = 0;
        double maxDelay = 0.3, lookAhead = 0.0;
    };

    /// What is compared: the aligned side, lean included; the other side is as recorded. roomGain: linear.
    struct Blends
    {
        Sides aligned;
        bool wholeSamples = false;
        double roomGain = 1.0;
    };

    /// Ends whatever runs, at once. Audio must not be inside. [setup]
    void prepare(const Shape& shape);

    // [screen]

    /// Begins to measure; nothing is heard of it yet. Allocates.
    void start(const Blends& blends);
    /// From the next dip on this side is heard; `fresh`: with the latest gains, else with those used so far.
    void hear(bool aligned, bool fresh);
    /// Back to the plugin's own sound, by a dip.
    void stop();
    [[nodiscard]] bool isRunning() const noexcept { return running.load(std::memory_order_acquire); }
    /// The loudness has been matched, so that there is something to hear.
    [[nodiscard]] bool isMatched() const noexcept { return matched.load(std::memory_order_acquire); }
    /// Of the passage that is being heard, s; the whole of it while nothing sounds.
    [[nodiscard]] double secondsLeft() const noexcept;
    /// Aligned less as recorded before matching, LU; none where not measured.
    [[nodiscard]] std::optional<double> loudnessDifference() const;

    /// Measures a passage that is full. [worker]
    void work();

    // [audio]

    /// What is to be heard in a block of `frames`, 512 at most. `possible` is false in a bypassed insert and in an
    /// offline render: then nothing of a trial is heard.
    struct Now
    {
        bool engaged = false; ///< else the plugin's own controls count
        bool aligned = false;
        const Blends* blends = nullptr; ///< where engaged
    };
    [[nodiscard]] Now advance(int frames, bool possible) noexcept;
    /// Keeps what both blends are made of: the spot as it comes in, and the room as it goes into the blend.
    void record(const std::array<float*, maxSpotChannels>& spot, const std::array<float*, maxSpotChannels>& room,
                int frames) noexcept;
    /// The dip and the matched gain, on the finished output. Leaves it bit for bit where no trial is heard.
    void shape(const std::array<float*, maxSpotChannels>& output, int frames) noexcept;

    /// A stretch of spot and room.
    struct Passage
    {
        std::vector<std::vector<float>> spot, room;
    };
    /// One side's blend of a passage: as the engine makes it, with half a second of silence at the end, so that every
    /// hit counts in full on both sides. Allocates. [worker]
    [[nodiscard]] static std::vector<std::vector<float>> render(const Passage& passage, const Shape& shape,
                                                                const Blends& blends, bool aligned);

private:
    class Hold;
    struct Request
    {
        bool engaged = false, aligned = false;
        double level = 1.0;
        Blends blends;
    };
    enum class Move
    {
        open,    // heard at `level`
        closing, // on the way to silence
        silent,  // the sides change
        opening
    };

    Shape form;

    // Worker and screen.
    mutable std::mutex setupLock;
    unsigned beginnings = 0;
    double alignedGain = 1.0, recordedGain = 1.0; // the latest
    double alignedUsed = 1.0, recordedUsed = 1.0; // those of this presentation
    std::optional<double> difference;

    // Audio tries `busy` and goes without where somebody has it; the others hold it for an instant.
    mutable std::atomic_flag busy;
    Request wanted;
    Passage passage;
    std::atomic<unsigned> requests{0};
    std::atomic<std::int64_t> filled{0}; // frames of the passage
    std::atomic<bool> running{false}, matched{false}, recording{false};
    std::int64_t passageFrames = 0;

    // Audio only.
    unsigned seen = 0;
    Request current;
    Move move = Move::open;
    float gain = 1.0F;
    int silence = 0; // frames left of it
};
} // namespace tarry
