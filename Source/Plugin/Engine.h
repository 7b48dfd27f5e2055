#pragma once
#include "Core/Delay/Delay.h"
#include "Core/Measuring.h"
#include "Plugin/Blend.h"
#include "Plugin/BlindSwitch.h"
#include "Plugin/Controls.h"
#include "Plugin/Follow.h"

#include <array>
#include <atomic>
#include <cstdint>
#include <functional>
#include <mutex>
#include <optional>
#include <string>
#include <vector>

namespace tarry
{
/// What the streams look like. Room channels: 0 where no room is connected.
struct Streams
{
    double sampleRate = 48000.0; ///< Hz
    int spotChannels = 1;        ///< 1 or 2
    int roomChannels = 1;        ///< 0 to 2

    bool operator==(const Streams&) const = default;
};

/// The plugin without its shell: measures, follows, delays. No JUCE, so that it can be driven by a test.
///
/// Threads: audio calls `process`; a worker calls `work` every few milliseconds; the screen reads and acts. When a host
/// renders offline, `process` does the worker's part itself, at fixed places of the stream: the same every time,
/// whatever the block size. What is measured crosses threads in Measuring; what is held, in one word a side.
class Engine
{
public:
    static constexpr double maxDelay = 0.3; ///< s: the longest lag by hand and the most lean, with room to spare
    static constexpr double minLagByHand = -0.1, maxLagByHand = 0.2; ///< s

    Engine();

    /// Allocates and forgets what was heard, keeps what is held. Audio must not be inside; a worker may. [setup]
    void prepare(const Streams& streams, const Controls& controls);

    /// In place on the spot; the room is only read. Samples that are not finite pass as silence. [audio]
    void process(float* const* spot, const float* const* room, int frames, const Controls& controls,
                 bool offline) noexcept;

    /// Silence in the delay lines. [audio]
    void reset() noexcept;

    /// Measures what was captured and follows it. True when there is news. [worker]
    bool work(const Controls& controls);

    /// Asks for measuring or freezing, which the worker then does. [audio]
    void requestMeasuring(bool wanted) noexcept
    {
        request.store(wanted ? wishMeasuring : wishFreezing, std::memory_order_relaxed);
    }

    // Acts. Any thread but audio: they lock, for microseconds. [screen]

    /// Measures (again), from nothing. What is held stays applied until something new is applied.
    void measure();
    /// Holds for good: the estimate if it is settled, else what is held (nothing: the spot stays as recorded).
    void freeze(const Controls& controls);
    /// Takes what the report says, sure or not, and freezes. False where it says nothing.
    bool apply(const Controls& controls);
    /// Lags are limited to minLagByHand..maxLagByHand. `sameGesture`: a drag goes on, one step of undo for all of it.
    void setByHand(const Sides& wanted, bool sameGesture = false);
    void setLagByHand(double seconds, bool sameGesture = false); ///< both sides; polarity as held
    void setPolarity(Polarity polarity);                         ///< both sides; lag as held
    void nudge(double seconds);                                  ///< every side by as much
    void nudgeSamples(int samples);
    /// Back before the last thing that was taken or set by hand; once more: forward again.
    bool undo();

    /// The sound of a blind trial. [screen]
    [[nodiscard]] BlindSwitch& blind() noexcept { return blindSwitch; }
    [[nodiscard]] const BlindSwitch& blind() const noexcept { return blindSwitch; }

    // Reads. [screen]

    [[nodiscard]] Report report() const;
    [[nodiscard]] unsigned reportNumber() const noexcept { return measuring.reportNumber(); }
    [[nodiscard]] Phase phase() const noexcept { return phaseNow.load(std::memory_order_relaxed); } // also [audio]
    /// None: nothing has been taken yet, the spot passes as recorded.
    [[nodiscard]] std::optional<Sides> held() const { return followState().held; }
    [[nodiscard]] bool byHand() const { return followState().byHand; }
    [[nodiscard]] bool canUndo() const { return undoState().has_value(); }
    /// Counts everything that can change what is shown, but for parameters and levels. Any thread.
    [[nodiscard]] unsigned changeNumber() const noexcept
    {
        return changes.load(std::memory_order_acquire) + reportNumber();
    }
    /// Delay now heard on a side, in samples against the look-ahead. It differs from what is held by lean, by the
    /// rounding to whole samples, and near zero, where no fractional delay is possible.
    [[nodiscard]] double heardSamples(int side) const noexcept
    {
        return heard[static_cast<std::size_t>(side)].load(std::memory_order_relaxed);
    }
    [[nodiscard]] const Streams& shape() const noexcept { return streams; }
    /// Highest spot sample since the last call (linear; 1 or more = clipped).
    [[nodiscard]] float takeSpotPeak() noexcept { return spotPeak.exchange(0.0F, std::memory_order_relaxed); }
    [[nodiscard]] float takeRoomPeak() noexcept { return roomPeak.exchange(0.0F, std::memory_order_relaxed); }
    [[nodiscard]] int latencySamples() const noexcept { return latency.load(std::memory_order_relaxed); }

    // Saved. [screen]

    [[nodiscard]] Follow::State followState() const;
    [[nodiscard]] std::optional<Follow::State> undoState() const;
    void restore(const Follow::State& saved, const std::optional<Follow::State>& undo);
    /// A recall line's: undo goes back before it.
    void restoreWithUndo(const Follow::State& wanted);
    [[nodiscard]] Setup setup() const;
    /// True when the look-ahead has changed, so that the host has to be told of another latency. Audio crossfades to
    /// it.
    bool setSetup(const Setup& wanted);

    /// Called after each change of phase or of what is held, by whoever made it, with a lock held: only pass it on.
    /// Never by the audio thread of a host that plays in real time. Set before the first prepare.
    std::function<void()> onChange;

private:
    static constexpr int chunk = 512;           // frames
    static constexpr double maxLookAhead = 0.1; // s
    static constexpr int wishMeasuring = 1, wishFreezing = 2;

    [[nodiscard]] MeasureSettings wantedSettings(const Controls& controls) const;
    void prepareMeasuring(const MeasureSettings& wanted);
    bool workAlone(const Controls& controls);
    bool heed(const Controls& controls); // wishes and settings; true when there is measuring to be done
    void heedOffline(const Controls& controls) noexcept;
    void workOffline(const Controls& controls) noexcept;
    void processChunk(const std::array<float*, maxSpotChannels>& spot,
                      const std::array<const float*, maxSpotChannels>& room, int frames, const Controls& controls,
                      bool offline) noexcept;
    [[nodiscard]] bool holdBack(int latencyNow) noexcept;
    void measure(const float* const* spot, const float* const* room, int frames) noexcept;
    void align(const Controls& controls, const BlindSwitch::Now& trial, int latencyNow) noexcept;
    [[nodiscard]] Alignment alignmentOf(std::size_t side, const Controls& controls) const noexcept;
    void startOver();
    void publish(); // with followLock held

    Streams streams;
    Measuring measuring;
    MeasureSettings measured;            // what `measuring` was last prepared with; worker and setup
    std::atomic<bool> able{false};       // `measuring` could be prepared: the sample rate is one it can measure
    std::atomic_flag measuringBusy;      // audio tries it once a chunk; whoever prepares `measuring` holds it
    std::mutex workLock;                 // worker thread, setup, and an offline render's audio thread
    std::atomic<unsigned> beginnings{0}; // counts startOver
    std::atomic<int> request{0};         // the latest wish

    mutable std::mutex followLock; // worker and screen; guards the next three
    Follow follow;
    Setup settings;
    std::string obstacle; // why `measuring` could not be prepared

    // What audio sees of them.
    std::array<std::atomic<std::int64_t>, maxSpotChannels> applied{}; // nanoseconds times two, plus one if inverted
    std::atomic<Phase> phaseNow{Phase::measuring};
    std::atomic<bool> roomLate{true};
    std::atomic<int> latency{0};       // samples
    std::atomic<double> rate{48000.0}; // Hz

    // What the screen sees of audio.
    std::atomic<unsigned> changes{0};
    std::atomic<float> spotPeak{0.0F}, roomPeak{0.0F};
    std::array<std::atomic<double>, maxSpotChannels> heard{};

    // Audio only.
    std::array<Delay, maxSpotChannels> delays;
    Delay heldBackSpot, heldBackRoom; // whichever runs ahead at the input, when there is look-ahead
    struct
    {
        int frames = 0;   // by which the one or the other is held back
        bool late = true; // it is the spot
    } holding;
    int roomPause = 0; // frames until the room's line is full again
    std::array<std::vector<float>, maxSpotChannels> spotScratch, roomScratch; // chunk frames each
    std::int64_t position = 0;                                                // frames since prepare
    Blend blend;
    BlindSwitch blindSwitch; // audio, worker and screen: says itself who may what
};
} // namespace tarry
