#pragma once
#include "Core/Analysis.h"
#include "Core/Capture/HitCapture.h"
#include "Core/Capture/HitQueue.h"

#include <atomic>
#include <memory>
#include <mutex>

namespace tarry
{
/// The one place where threads meet: audio → worker → screen. The plugin and the command both measure through it.
///
/// Audio calls `process`; a worker calls `work` every few milliseconds (offline: the audio thread itself, after each
/// block); anybody but audio calls `report`.
class Measuring
{
public:
    /// Allocates everything and forgets what was heard. Neither audio nor worker may be inside. [setup]
    void prepare(const MeasureSettings& settings);

    /// Measures to one block. Never allocates, locks or waits. [audio]
    void process(const float* const* spot, const float* const* room, int frames) noexcept;

    /// Ends a stream that ends (a file). [audio]
    void finish() noexcept;

    /// Forgets what was heard, at the audio thread's and the worker's next call. Any thread; never waits.
    void startOver() noexcept;

    /// Analyses the hits that wait, and not for ever those that come meanwhile. True when the report has changed.
    /// [worker]
    bool work();

    /// The same, and leaves the report to the next `work`: for whoever asks only at the end. [worker]
    void gather();

    /// A copy of the latest report. Not for the audio thread: it locks. [screen]
    [[nodiscard]] Report report() const;

    /// Counts the reports: a cheap way to see that there is a new one. Any thread.
    [[nodiscard]] unsigned reportNumber() const noexcept { return published.load(std::memory_order_acquire); }

    [[nodiscard]] const MeasureSettings& settings() const { return current; }

private:
    MeasureSettings current;
    HitCapture capture;
    HitQueue queue;
    std::unique_ptr<Analysis> analysis; // [worker]
    mutable std::mutex reportLock;      // worker and screen only
    Report latest;
    std::atomic<unsigned> published{0}, generation{0};
    std::atomic<unsigned> audioGeneration{0}; // written by audio
    std::atomic<int> lostBefore{0};           // written by audio: hits lost before the present measuring
    unsigned workerGeneration = 0;            // [worker]
    bool unreported = false;                  // [worker]: hits were analysed since the last report
};
} // namespace tarry
