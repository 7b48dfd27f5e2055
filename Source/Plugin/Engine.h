#pragma once
#include "Core/Delay.h"
#include "Core/Listening.h"
#include "Plugin/Controls.h"
#include "Plugin/Follow.h"

#include <array>
#include <atomic>
#include <mutex>
#include <vector>

namespace tarry
{
/// What the streams look like. Room channels: 0 where no room is connected.
struct Streams
{
    double sampleRate = 48000.0;
    int spotChannels = 1;
    int roomChannels = 1;

    bool operator==(const Streams&) const = default;
};

/// The plugin without its shell: listens, follows, delays. No JUCE, so that it can be driven by a test.
///
/// Threads: audio calls `process`; a worker calls `work` every few milliseconds; the screen reads and acts. When a host
/// renders offline, `process` does the worker's part itself, at fixed places of the stream: the same every time,
/// whatever the block size.
class Engine
{
public:
    static constexpr double maxDelay = 0.3; ///< s: the longest lag by hand and the most lean, with room to spare
    static constexpr double minLagByHand = -0.1, maxLagByHand = 0.2; ///< s

    Engine();

    /// Allocates and forgets what was heard, keeps what is held. Neither audio nor worker may be inside. [setup]
    void prepare(const Streams& streams, const Controls& controls);

    /// In place on the spot; the room is only read. Samples that are not finite pass as silence. [audio]
    void process(float* const* spot, const float* const* room, int frames, const Controls& controls,
                 bool offline) noexcept;

    /// Silence in the delay line. [audio]
    void reset() noexcept;

    /// Measures what was captured and follows it. True when there is news. [worker]
    bool work(const Controls& controls);

    // Acts. Any thread but audio; they lock for microseconds. [screen]
    void listen();
    void freeze(const Controls& controls);
    /// Takes what the report says, sure or not, and freezes. False where it says nothing.
    bool take(const Controls& controls);
    /// Lags are limited to minLagByHand..maxLagByHand. `sameGesture`: a drag goes on, one step of undo for all of it.
    void setByHand(const Sides& wanted, bool sameGesture = false);
    void setLagByHand(double seconds, bool sameGesture = false); ///< both sides; polarity as held
    void setPolarity(Polarity polarity);                         ///< both sides; lag as held
    void nudge(double seconds);                                  ///< every side by as much
    void nudgeSamples(int samples);
    bool undo();

    /// Asks for listening or freezing, which the worker then does. [audio]
    void requestListening(bool wanted) noexcept { request.store(wanted ? 1 : 2, std::memory_order_relaxed); }

    // Reads. [screen]
    [[nodiscard]] Report report() const;
    [[nodiscard]] unsigned reportNumber() const noexcept { return listening.reportNumber(); }
    [[nodiscard]] Phase phase() const noexcept { return phaseNow.load(std::memory_order_relaxed); } // also [audio]
    [[nodiscard]] std::optional<Sides> held() const;
    [[nodiscard]] bool byHand() const;
    [[nodiscard]] bool canUndo() const;
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
    [[nodiscard]] double sampleRate() const noexcept { return streams.sampleRate; }
    [[nodiscard]] const Streams& shape() const noexcept { return streams; }
    /// Highest spot sample since the last call (linear; 1 or more = clipped).
    [[nodiscard]] float takeSpotPeak() noexcept { return spotPeak.exchange(0.0F, std::memory_order_relaxed); }

    // Saved. [screen]
    [[nodiscard]] Follow::State followState() const;
    [[nodiscard]] std::optional<Follow::State> undoState() const;
    void restore(const Follow::State& saved, const std::optional<Follow::State>& undo);
    [[nodiscard]] Setup setup() const;
    /// True when the look-ahead has changed, so that `prepare` has to be called before the next block.
    bool setSetup(const Setup& wanted);

    [[nodiscard]] int latencySamples() const noexcept { return latency; }

private:
    static constexpr int chunk = 512; // frames; places in the stream where an offline render does the worker's part

    [[nodiscard]] ListenSettings wantedSettings(const Controls& controls) const;
    void prepareListening(const ListenSettings& settings);
    void workOffline(const Controls& controls) noexcept;
    void processChunk(float* const* spot, const float* const* room, int frames, const Controls& controls,
                      bool offline) noexcept;
    void applyHeld(const Controls& controls) noexcept;
    void publish();

    Streams streams;
    Setup settings;
    int latency = 0;

    Listening listening;
    bool able = false;                   // the sample rate is one that can be measured
    std::atomic_flag listeningBusy;      // audio: tried once a block; setup: taken while it allocates
    std::mutex workLock;                 // worker thread, and an offline render's audio thread
    mutable std::mutex followLock;       // worker and screen
    Follow follow;                       // guarded by followLock
    std::atomic<unsigned> beginnings{0}; // counts listen(): a report from before one is not considered
    std::atomic<int> request{0};         // 1 listen, 2 freeze
    std::atomic<Phase> phaseNow{Phase::listening};
    std::array<std::atomic<std::int64_t>, maxSpotChannels> applied{}; // nanoseconds times two, plus one if inverted
    std::atomic<unsigned> changes{0};
    std::atomic<float> spotPeak{0.0F};
    std::array<std::atomic<double>, maxSpotChannels> heard{};

    // Audio only.
    std::array<Delay, maxSpotChannels> delays;
    Delay heldBackSpot, heldBackRoom; // whichever runs ahead at the input, when there is look-ahead
    std::vector<float> scratch;       // chunk frames of: two spot sides, two room sides
    std::int64_t position = 0;        // frames since prepare
};
} // namespace tarry
