#include "Core/Measuring.h"

namespace tarry
{
namespace
{
constexpr int queueSlots = 8; // hits: 0.3 s of the densest roll while the worker is away
}

void Measuring::prepare(const MeasureSettings& settings)
{
    current = settings;
    capture.prepare(settings);
    queue.prepare(queueSlots, settings.spotChannels, settings.roomChannels, capture.windowFrames());
    analysis = std::make_unique<Analysis>(settings);
    workerGeneration = generation.load();
    unreported = false;
    audioGeneration = workerGeneration;
    lostBefore = 0;
    capture.reset(workerGeneration);
    const std::scoped_lock guard(reportLock);
    latest = analysis->report();
    published.fetch_add(1, std::memory_order_release);
}

void Measuring::process(const float* const* spot, const float* const* room, int frames) noexcept
{
    if (const unsigned now = generation.load(std::memory_order_acquire);
        now != audioGeneration.load(std::memory_order_relaxed))
    {
        lostBefore.store(queue.lost(), std::memory_order_relaxed);
        audioGeneration.store(now, std::memory_order_release);
        capture.reset(now);
    }
    capture.process(spot, room, frames, queue);
}

void Measuring::finish() noexcept
{
    capture.finish(queue);
}

void Measuring::startOver() noexcept
{
    generation.fetch_add(1, std::memory_order_release);
}

void Measuring::gather()
{
    if (const unsigned now = generation.load(std::memory_order_acquire); now != workerGeneration)
    {
        workerGeneration = now;
        analysis = std::make_unique<Analysis>(current);
        unreported = true;
    }
    // No more than can wait: where hits come faster than they are worked on, the worker has other things to do too.
    for (int hits = 0; hits < queueSlots; ++hits)
    {
        const Hit* hit = queue.beginRead();
        if (hit == nullptr) break;
        // Of a measuring that began just now, after the look above: kept for the next call.
        if (hit->generation != workerGeneration && hit->generation == generation.load(std::memory_order_acquire)) break;
        if (hit->generation == workerGeneration)
        {
            analysis->add(*hit);
            unreported = true;
        }
        queue.endRead();
    }
}

bool Measuring::work()
{
    gather();
    if (!unreported) return false;
    unreported = false;
    Report report = analysis->report();
    if (audioGeneration.load(std::memory_order_acquire) == workerGeneration)
        report.hitsLost = queue.lost() - lostBefore.load(std::memory_order_relaxed);
    {
        const std::scoped_lock guard(reportLock);
        latest = std::move(report);
    }
    published.fetch_add(1, std::memory_order_release);
    return true;
}

Report Measuring::report() const
{
    const std::scoped_lock guard(reportLock);
    return latest;
}
} // namespace tarry
