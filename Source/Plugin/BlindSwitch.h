#pragma once
#include "Core/Ground/Types.h"
#include "Plugin/BlendMeter.h"

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
/// Audio hands spot and room to the worker, which makes both blends of them and measures each by ITU-R BS.1770 from the
/// start of the trial on; the louder one is to be turned down. There is something to hear once 10 s have been measured;
/// what is measured later makes the match finer, and counts from the next presentation on. Every switch is the same
/// dip: out, a silence in which the sides change, in; also where the side stays the same.
class BlindSwitch
{
public:
    static constexpr double firstSeconds = 10.0;
    static constexpr double dipSeconds = 0.015;    ///< out, and in again
    static constexpr double silenceSeconds = 0.02; ///< longer than the delay's own crossfade of 15 ms

    /// Ends whatever runs, at once. Audio must not be inside. [setup]
    void prepare(const BlendShape& shape);

    // [screen]

    /// The look-ahead that trials begun from now on are measured with, s.
    void setLookAhead(double seconds);

    /// Begins to measure; nothing is heard of it yet. Allocates. Throws std::invalid_argument where the sample rate is
    /// none that loudness can be measured at.
    void start(const ComparedBlends& blends);
    /// From the next dip on this side is heard; `fresh`: with the latest gains, else with those used so far.
    void hear(bool aligned, bool fresh);
    /// Back to the plugin's own sound, by a dip.
    void stop();
    [[nodiscard]] bool isRunning() const noexcept { return running.load(std::memory_order_acquire); }
    /// The loudness has been matched, so that there is something to hear.
    [[nodiscard]] bool isMatched() const noexcept { return matched.load(std::memory_order_acquire); }
    /// How much more has to be measured before there is something to hear, s.
    [[nodiscard]] double secondsLeft() const noexcept { return left.load(std::memory_order_relaxed); }
    /// Aligned less as recorded before matching, LU; none where not measured.
    [[nodiscard]] std::optional<double> loudnessDifference() const;

    /// Measures what audio has handed over. [worker]
    void work();

    // [audio]

    /// What is to be heard in a block of `frames`, 512 at most. `possible` is false in a bypassed insert and in an
    /// offline render: then nothing of a trial is heard, after the same dip as for any other change or, in a render,
    /// `atOnce`.
    struct Now
    {
        bool engaged = false; ///< else the plugin's own controls count
        bool aligned = false;
        const ComparedBlends* blends = nullptr; ///< where engaged
    };
    [[nodiscard]] Now advance(int frames, bool possible, bool atOnce = false) noexcept;
    /// Hands over what both blends are made of: the spot as it comes in, and the room as it goes into the blend.
    void record(const std::array<float*, maxSpotChannels>& spot, const std::array<float*, maxSpotChannels>& room,
                int frames) noexcept;
    /// The dip and the matched gain, on the finished output. Leaves it bit for bit where no trial is heard.
    void shape(const std::array<float*, maxSpotChannels>& output, int frames) noexcept;

private:
    class Hold;
    void beSilent() noexcept;
    struct Request
    {
        bool engaged = false, aligned = false;
        double level = 1.0;
        ComparedBlends blends;
    };
    enum class Move
    {
        open,    // heard at `level`
        closing, // on the way to silence
        silent,  // the sides change
        opening
    };

    BlendShape form;

    // Worker and screen.
    mutable std::mutex setupLock;
    std::optional<BlendMeter> meter;
    LoudnessMatch latest; // aligned first
    LoudnessMatch used;   // in this presentation
    std::atomic<bool> running{false}, matched{false};
    std::atomic<double> left{firstSeconds};

    // Audio tries `busy` and goes without where somebody has it; the screen holds it for an instant.
    std::atomic_flag busy;
    Request wanted;
    std::atomic<unsigned> requests{0};

    // Audio to worker: channel after channel (spots, then rooms), each a ring of ringFrames.
    std::vector<std::vector<float>> ring;
    std::int64_t ringFrames = 0;
    std::atomic<std::int64_t> written{0}, taken{0};

    // Audio only.
    unsigned seen = 0;
    Request current;
    Move move = Move::open;
    int dip = 1, lift = 1; // frames of a dip's way down, and how far up it is: 0 silent, dip open
    int silence = 0;       // frames left of it
};
} // namespace tarry
