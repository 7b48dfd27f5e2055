#pragma once
#include "Core/Controls/Controls.h"
#include "Core/Delay/Delay.h"
#include "Core/Measuring.h"
#include "Plugin/Blend.h"
#include "Plugin/BlindSwitch.h"
#include "Plugin/Follow.h"
#include "Plugin/HeldWords.h"
#include "Plugin/LevelMatch.h"

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
    int roomChannels = 1;        ///< 0 to maxRoomChannels

    bool operator==(const Streams&) const = default;
};

/// The plugin without its shell: measures, follows, delays. No JUCE, so that it can be driven by a test.
///
/// Threads: audio calls `process` (Engine.cpp); a worker calls `work` every few milliseconds (EngineWork.cpp); the
/// screen reads and acts (EngineActs.cpp). When a host renders offline, `process` does the worker's part itself, at
/// fixed places of the stream: the same every time, whatever the block size. What is measured crosses threads in
/// Measuring; what is held, in HeldWords; wishes of the host's automation, in one flag.
///
/// An offline render holds what was held at its start from its first sample to its last: what it measures is offered
/// afterwards. While locked, nothing is measured and nothing changes.
class Engine
{
public:
    static constexpr double maxDelay = 0.3; ///< s: the longest lag by hand and the most lean, with room to spare
    static constexpr double minLagByHand = -0.1, maxLagByHand = 0.2; ///< s
    static constexpr int watchHits = 6;                              ///< that are compared with what is held at a time
    static constexpr double watchRest = 30.0; ///< s without watching after hits that agreed with what is held

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
    /// Does so now, without waiting for the worker. While locked the wish waits. Any thread but a real host's audio.
    void heedRequest(const Controls& controls);
    /// Whether the host records: for the lock that goes on by itself. [audio]
    void setHostRecords(bool records) noexcept { hostRecords.store(records, std::memory_order_relaxed); }

    // Acts. Any thread but audio: they lock, for microseconds. Each is false, and has done nothing, while locked.
    // [screen]

    /// Measures (again), from nothing. What is held stays applied until something new is applied; a lag or polarity set
    /// by hand stays until it is told otherwise.
    bool measure();
    /// Holds for good, as `freezePlan` says.
    bool freeze(const Controls& controls);
    /// Takes what the report says, sure or not, and freezes. False where it says nothing that can be applied.
    bool apply(const Controls& controls);
    /// Takes what is offered; turns it down.
    bool takeOffer();
    bool dismissOffer();
    /// Lags are limited to minLagByHand..maxLagByHand. `sameGesture`: a drag goes on, one step of undo for all of it.
    bool setByHand(const Sides& wanted, bool sameGesture = false);
    bool setLagByHand(double seconds, bool sameGesture = false); ///< both sides; polarity as held
    bool setPolarity(Polarity polarity);                         ///< both sides; lag as held
    bool nudge(double seconds);                                  ///< every side by as much
    bool nudgeSamples(int samples);
    /// Before an act that changes other things than what is held: undo brings them back too.
    void remember(const std::string& what, const Beside& beside);
    /// One step back, or forward. `current`: what stands beside now. What comes back is to be set again by whoever
    /// keeps it; none where there was no step.
    std::optional<Beside> undo(const Beside& current = {});
    std::optional<Beside> redo(const Beside& current = {});

    /// While a trial runs, the A/B's own level matching stays out of its sound.
    void setTrialRuns(bool runs);
    /// Measured as a whole elsewhere, as files are: stands for what is played until null is set. [screen]
    void setMeasuredWhole(std::shared_ptr<const Report> report);

    /// The sound of a blind trial. [screen]
    [[nodiscard]] BlindSwitch& blind() noexcept { return blindSwitch; }
    [[nodiscard]] const BlindSwitch& blind() const noexcept { return blindSwitch; }

    // Reads. [screen]

    /// What is told: while measuring, what is measured; frozen, the report that what is held came from, or that stands
    /// beside a lag by hand. A new measuring that has found no hit yet does not hide it.
    [[nodiscard]] Report report() const;
    [[nodiscard]] unsigned reportNumber() const noexcept { return changeNumber(); }
    [[nodiscard]] Phase phase() const noexcept { return phaseNow.load(std::memory_order_relaxed); } // also [audio]
    /// None: nothing has been taken yet, the spot passes as recorded.
    [[nodiscard]] std::optional<Sides> held() const { return followState().held; }
    [[nodiscard]] bool byHand() const { return followState().byHand; }
    /// What was measured and waits to be taken.
    [[nodiscard]] std::optional<Offer> offer() const;
    /// The other lag of an A/B between two: the offered one, or the measured one beside a lag by hand.
    [[nodiscard]] std::optional<Sides> otherLag() const;
    /// What the freeze button would do now.
    [[nodiscard]] Follow::FreezePlan freezePlan(const Controls& controls) const;
    /// What undo takes back and redo brings back: "the lag by hand"; empty where there is nothing.
    [[nodiscard]] std::string undoWords() const;
    [[nodiscard]] std::string redoWords() const;
    [[nodiscard]] bool canUndo() const { return !undoWords().empty(); }
    /// By its switch, or because the host records and that was asked for. Any thread.
    [[nodiscard]] bool locked() const noexcept { return lockedNow.load(std::memory_order_relaxed); }
    /// An offline render that was still measuring went by: it was rendered as held at its start.
    [[nodiscard]] bool renderedUnsettled() const noexcept { return unsettledRender.load(std::memory_order_relaxed); }
    /// Counts everything that can change what is shown, but for parameters and levels. Any thread.
    [[nodiscard]] unsigned changeNumber() const noexcept
    {
        return changes.load(std::memory_order_acquire) + measuring.reportNumber();
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
    [[nodiscard]] History<Follow::State> history() const;
    void restore(const Follow::State& saved, const History<Follow::State>& steps = {});
    /// A recall line's: undo goes back before it.
    void restoreWithUndo(const Follow::State& wanted, const std::string& what, const Beside& beside);
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

    using SpotChannels = std::array<float*, maxSpotChannels>;
    using RoomChannels = std::array<const float*, maxRoomChannels>;

    // Worker's part: EngineWork.cpp.
    [[nodiscard]] MeasureSettings wantedSettings(const Controls& controls) const;
    void prepareMeasuring(const MeasureSettings& wanted);
    bool workAlone(const Controls& controls, bool offline);
    bool heed(const Controls& controls, bool offline); // wishes and settings; true when there is measuring to be done
    bool watchAlone(const Controls& controls);
    bool followWhole(const Controls& controls);
    void matchLevels(const Controls& controls);
    void heedOffline(const Controls& controls) noexcept;
    void workOffline(const Controls& controls) noexcept;

    // Audio's part: Engine.cpp.
    [[nodiscard]] Controls underLock(const Controls& controls) noexcept;
    void beginRender(bool offline) noexcept;
    void processChunk(const SpotChannels& spot, const RoomChannels& room, int frames, const Controls& controls,
                      bool offline) noexcept;
    [[nodiscard]] bool holdBack(int latencyNow) noexcept;
    void measure(const float* const* spot, const float* const* room, int frames, bool offline) noexcept;
    void align(const Controls& controls, const BlindSwitch::Now& trial, int latencyNow) noexcept;
    [[nodiscard]] Alignment alignmentOf(std::size_t side, const Controls& controls) const noexcept;

    void startOver() noexcept; // any thread; never waits
    void publish();            // with followLock held
    template <typename Act>
    bool act(Act does); // an act of the screen's, unless locked
    template <typename Move>
    std::optional<Beside> step(Move move); // back or forward

    BlindSwitch blindSwitch; // audio, worker and screen: says itself who may what
    Streams streams;
    Measuring measuring;
    MeasureSettings measured;            // what `measuring` was last prepared with; worker and setup
    std::atomic<bool> able{false};       // `measuring` could be prepared: the sample rate is one it can measure
    std::atomic_flag measuringBusy;      // audio tries it once a chunk; whoever prepares `measuring` holds it
    std::mutex workLock;                 // worker thread, setup, and an offline render's audio thread
    std::atomic<unsigned> beginnings{0}; // counts startOver
    std::atomic<int> request{0};         // the latest wish

    LevelMatch levelMatch{blindSwitch}; // with workLock held

    mutable std::mutex followLock; // worker and screen; guards the next three
    Follow follow;
    Setup settings;
    std::string obstacle;                // empty before the first prepare; else why `measuring` could not be prepared
    std::shared_ptr<const Report> whole; // guarded by followLock as well
    std::atomic<bool> isWhole{false};    // there is one

    // What audio sees of them.
    HeldWords applied;
    HeldWords besideWords; // the other lag of an A/B between two
    std::atomic<Phase> phaseNow{Phase::measuring};
    std::atomic<bool> watching{false};
    std::atomic<bool> roomLate{true};
    std::atomic<bool> lockWhileRecording{false};
    std::atomic<int> latency{0};       // samples
    std::atomic<double> rate{48000.0}; // Hz

    // What the others see of audio.
    std::atomic<unsigned> changes{0};
    std::atomic<float> spotPeak{0.0F}, roomPeak{0.0F};
    std::array<std::atomic<double>, maxSpotChannels> heard{};
    std::atomic<bool> hostRecords{false}, lockedNow{false}, unsettledRender{false};
    std::atomic<int> rest{0}; // frames until watching goes on; the worker sets it, audio counts it down

    // Audio only.
    std::array<Delay, maxSpotChannels> delays;
    Delay heldBackSpot, heldBackRoom; // whichever runs ahead at the input, when there is look-ahead
    struct
    {
        int frames = 0;   // by which the one or the other is held back
        bool late = true; // it is the spot
    } holding;
    int roomPause = 0;                                           // frames until the room's line is full again
    std::array<std::vector<float>, maxSpotChannels> spotScratch; // chunk frames each
    std::array<std::vector<float>, maxRoomChannels> roomScratch;
    std::int64_t position = 0; // frames since prepare
    bool rendering = false;    // offline, with what was held when that began
    std::array<std::optional<Alignment>, maxSpotChannels> renderHolds;
    std::optional<Controls> lockedControls;
    Blend blend;
};

/// Why a lag (s) cannot be set by hand: "The longest is 200 ms."; empty where it can.
[[nodiscard]] std::string lagLimitWords(double seconds);
} // namespace tarry
