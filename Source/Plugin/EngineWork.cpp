// The worker's part of the engine: measures what audio captured, and follows it.
#include "Plugin/Engine.h"

#include <algorithm>
#include <chrono>
#include <stdexcept>
#include <thread>

namespace tarry
{
MeasureSettings Engine::wantedSettings(const Controls& controls) const
{
    MeasureSettings wanted;
    wanted.sampleRate = streams.sampleRate;
    wanted.spotChannels = streams.spotChannels;
    wanted.roomChannels = std::max(1, streams.roomChannels); // no room counts as a silent one
    wanted.reach = controls.reach;
    wanted.lookAhead = setup().lookAhead;
    wanted.clap = controls.clap;
    wanted.roomChannel = std::min(controls.roomChannel, wanted.roomChannels - 1);
    return wanted;
}

void Engine::prepareMeasuring(const MeasureSettings& wanted)
{
    while (measuringBusy.test_and_set(std::memory_order_acquire))
        std::this_thread::sleep_for(std::chrono::microseconds(100));
    measured = wanted;
    try
    {
        measuring.prepare(wanted);
        able.store(true);
    }
    catch (const std::invalid_argument& error)
    {
        able.store(false);
        const std::scoped_lock guard(followLock);
        obstacle = error.what();
    }
    measuringBusy.clear(std::memory_order_release);
    changes.fetch_add(1, std::memory_order_release);
}

bool Engine::work(const Controls& controls)
{
    blindSwitch.work(); // takes a while now and then: outside of the lock
    const std::scoped_lock alone(workLock);
    matchLevels(controls);
    return workAlone(controls, false);
}

void Engine::setTrialRuns(bool runs)
{
    const std::scoped_lock alone(workLock);
    levelMatch.setTrialRuns(runs);
}

/// Only the blend can be louder on one side: the spot alone is as loud wherever it lies.
void Engine::matchLevels(const Controls& controls)
{
    const auto sides = held();
    const bool wanted = controls.levelMatched && controls.blend && !controls.bypassed && sides &&
                        streams.roomChannels > 0 && able.load();
    if (!wanted)
    {
        levelMatch.follow(std::nullopt, controls.aligned);
        return;
    }
    const auto other = controls.compareLags ? otherLag() : std::nullopt;
    ComparedBlends blends{leaned(*sides, controls.lean), controls.wholeSamples, controls.blendGain, {}};
    if (other) blends.other = leaned(*other, controls.lean);
    levelMatch.follow(blends, controls.aligned);
}

void Engine::workOffline(const Controls& controls) noexcept
{
    const std::scoped_lock alone(workLock);
    workAlone(controls, true);
}

void Engine::heedOffline(const Controls& controls) noexcept
{
    const std::scoped_lock alone(workLock);
    heed(controls, true);
}

void Engine::heedRequest(const Controls& controls)
{
    if (locked() || controls.lock) return; // the lock counts before audio has heard of it
    const int wish = request.exchange(0, std::memory_order_relaxed);
    if (wish == wishMeasuring && phase() == Phase::frozen) measure();
    if (wish == wishFreezing && phase() != Phase::frozen) freeze(controls);
}

bool Engine::heed(const Controls& controls, bool offline)
{
    if (locked()) return false;
    heedRequest(controls);
    if (phase() == Phase::frozen && (offline || !watching.load())) return false;
    if (const auto wanted = wantedSettings(controls); !(wanted == measured)) prepareMeasuring(wanted);
    return true;
}

bool Engine::workAlone(const Controls& controls, bool offline)
{
    if (!heed(controls, offline)) return false;
    if (isWhole.load()) return followWhole(controls);
    if (phase() == Phase::frozen) return watchAlone(controls);

    const auto begun = beginnings.load();
    const bool news = able.load() && measuring.work();
    const bool shallFreeze = controls.freezeWhenSettled && phase() == Phase::settled && !offline;
    if (!news && !shallFreeze) return false;

    const auto latest = measuring.report();
    const std::scoped_lock guard(followLock);
    if (begun != beginnings.load()) return true; // somebody began anew meanwhile: this report is of what was before
    if (follow.consider(latest, rulesOf(controls, settings), offline)) publish();
    return true;
}

bool Engine::followWhole(const Controls& controls)
{
    const std::scoped_lock guard(followLock);
    if (!whole || follow.phase() == Phase::frozen) return false;
    if (!follow.consider(*whole, rulesOf(controls, settings))) return false;
    publish();
    return true;
}

/// Frozen: a handful of hits at a time is compared with what is held, so that it stays cheap however long it goes on.
bool Engine::watchAlone(const Controls& controls)
{
    const auto begun = beginnings.load();
    if (!able.load() || !measuring.work()) return false;
    const auto latest = measuring.report();
    if (latest.hitsFound < watchHits) return false;

    const std::scoped_lock guard(followLock);
    if (begun != beginnings.load()) return false;
    const bool news = follow.watch(latest, rulesOf(controls, settings));
    measuring.startOver();
    if (!follow.offer()) rest.store(static_cast<int>(watchRest * streams.sampleRate), std::memory_order_relaxed);
    if (news) publish();
    return news;
}

void Engine::startOver() noexcept
{
    beginnings.fetch_add(1);
    measuring.startOver();
    rest.store(0, std::memory_order_relaxed);
}

void Engine::publish()
{
    if (follow.phase() == Phase::frozen && phase() != Phase::frozen) startOver(); // what follows is watched
    applied.store(follow.held());
    besideWords.store(follow.besideHeld());
    phaseNow.store(follow.phase(), std::memory_order_relaxed);
    watching.store(settings.watch && follow.phase() == Phase::frozen && follow.held().has_value());
    if (follow.phase() == Phase::frozen) unsettledRender.store(false, std::memory_order_relaxed);
    changes.fetch_add(1, std::memory_order_release);
    if (onChange) onChange();
}
} // namespace tarry
