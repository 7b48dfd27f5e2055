#include "Plugin/Engine.h"
#include "Core/Ground/Samples.h"
#include "Core/Report/SideAlignment.h"

#include <algorithm>
#include <chrono>
#include <cmath>
#include <limits>
#include <stdexcept>
#include <thread>

namespace tarry
{
namespace
{
// A lag and its polarity in one word, so that audio can read both at once without a lock.
constexpr std::int64_t nothingHeld = std::numeric_limits<std::int64_t>::min();

std::int64_t pack(const Alignment& alignment)
{
    return std::llround(alignment.lag * 1.0e9) * 2 + (alignment.polarity == Polarity::inverted ? 1 : 0);
}

Alignment unpack(std::int64_t word)
{
    const bool inverted = (word & 1) != 0;
    const std::int64_t nanoseconds = (word - (inverted ? 1 : 0)) / 2;
    return {static_cast<double>(nanoseconds) / 1.0e9, inverted ? Polarity::inverted : Polarity::normal};
}
} // namespace

Engine::Engine()
{
    for (auto& word : applied) word.store(nothingHeld, std::memory_order_relaxed);
}

// ---------------------------------------------------------------------------------------------------- setup

void Engine::prepare(const Streams& shape, const Controls& controls)
{
    const std::scoped_lock noWorker(workLock);
    streams = shape;
    rate.store(shape.sampleRate);
    const double lookAhead = setup().lookAhead;
    const auto frames = static_cast<int>(std::lround(lookAhead * streams.sampleRate));
    for (auto& delay : delays) delay.prepare(streams.sampleRate, 1, maxDelay, maxLookAhead);
    heldBackSpot.prepare(streams.sampleRate, maxSpotChannels, 0.0, maxLookAhead);
    heldBackRoom.prepare(streams.sampleRate, maxSpotChannels, 0.0, lookAhead);
    latency.store(frames, std::memory_order_relaxed);
    roomPause = 0;
    for (auto* block : {&spotScratch, &roomScratch})
        for (auto& channel : *block) channel.assign(chunk, 0.0F);
    position = 0;
    blend.prepare(streams.sampleRate, streams.spotChannels, streams.roomChannels);
    blindSwitch.prepare({streams.sampleRate, streams.spotChannels, streams.roomChannels, maxDelay, lookAhead});
    prepareMeasuring(wantedSettings(controls));
}

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

// ---------------------------------------------------------------------------------------------------- audio

void Engine::process(float* const* spot, const float* const* room, int frames, const Controls& controls,
                     bool offline) noexcept
{
    if (offline) heedOffline(controls); // a parameter changed since the last block counts from this block's start
    int done = 0;
    while (done < frames)
    {
        // Cut at fixed places of the stream, so that an offline render never depends on the size of its blocks.
        const int n = std::min(frames - done, chunk - static_cast<int>(position % chunk));
        std::array<float*, maxSpotChannels> spotNow{};
        std::array<const float*, maxSpotChannels> roomNow{};
        for (std::size_t i = 0; i < spotNow.size(); ++i)
        {
            if (static_cast<int>(i) < streams.spotChannels) spotNow[i] = spot[i] + done;
            if (static_cast<int>(i) < streams.roomChannels) roomNow[i] = room[i] + done;
        }
        processChunk(spotNow, roomNow, n, controls, offline);
        done += n;
        position += n;
        if (offline && position % chunk == 0) workOffline(controls);
    }
}

void Engine::processChunk(const std::array<float*, maxSpotChannels>& spot,
                          const std::array<const float*, maxSpotChannels>& room, int frames, const Controls& controls,
                          bool offline) noexcept
{
    const auto count = static_cast<std::size_t>(frames);
    const auto meter = [count](std::atomic<float>& peak, const float* samples)
    {
        float most = peak.load(std::memory_order_relaxed);
        for (std::size_t k = 0; k < count; ++k) most = std::max(most, std::abs(samples[k]));
        peak.store(most, std::memory_order_relaxed);
    };
    for (std::size_t i = 0; i < static_cast<std::size_t>(streams.spotChannels); ++i)
    {
        std::transform(spot[i], spot[i] + count, spot[i], sound);
        std::copy_n(spot[i], count, spotScratch[i].data());
        meter(spotPeak, spot[i]);
    }
    for (std::size_t i = 0; i < static_cast<std::size_t>(streams.roomChannels); ++i)
    {
        std::transform(room[i], room[i] + count, roomScratch[i].data(), sound);
        meter(roomPeak, roomScratch[i].data());
    }

    std::array<float*, maxSpotChannels> spotAsRecorded{}, roomAsRecorded{};
    for (std::size_t i = 0; i < spotAsRecorded.size(); ++i)
    {
        spotAsRecorded[i] = spotScratch[i].data();
        roomAsRecorded[i] = roomScratch[i].data(); // stays silent where no room is connected
    }

    const int latencyNow = latency.load(std::memory_order_relaxed);
    const bool roomPauses = holdBack(latencyNow);
    roomPause = std::max(0, roomPause - frames);

    // The spot leaves here later by the latency. A room that already arrives late by as much lies right for the blend,
    // and is measured against a spot held back; a room that does not is measured at once and then held back.
    const bool late = holding.late;
    const bool held = holding.frames > 0;
    if (held && late) heldBackSpot.process(spotAsRecorded.data(), frames);
    measure(spotAsRecorded.data(), roomAsRecorded.data(), frames);
    if (held && !late) heldBackRoom.process(roomAsRecorded.data(), frames);

    // For judging only, blend and trial alike: never in a bypassed insert, never in a print.
    const bool judging = !controls.bypassed && !offline;
    if (judging) blindSwitch.record(spot, roomAsRecorded, frames);
    const auto trial = blindSwitch.advance(frames, judging, offline);
    align(controls, trial, latencyNow);
    for (std::size_t i = 0; i < static_cast<std::size_t>(streams.spotChannels); ++i)
        delays[i].process(&spot[i], frames);

    const double roomGain = trial.engaged ? trial.blends->roomGain : controls.blend ? controls.blendGain : 0.0;
    blend.add(spot, {roomAsRecorded[0], roomAsRecorded[1]}, frames, judging && !roomPauses ? roomGain : 0.0,
              offline || position == 0);
    blindSwitch.shape(spot, frames);
}

void Engine::measure(const float* const* spot, const float* const* room, int frames) noexcept
{
    if (phase() == Phase::frozen) return;
    if (measuringBusy.test_and_set(std::memory_order_acquire)) return; // it is being set up: this stretch goes unheard
    if (able.load(std::memory_order_relaxed)) measuring.process(spot, room, frames);
    measuringBusy.clear(std::memory_order_release);
}

/// Spot or room is held back by another look-ahead, or the other one is: in the blend the room goes out first, and
/// comes back when its line is full again. True while it has to be out.
bool Engine::holdBack(int latencyNow) noexcept
{
    const bool late = roomLate.load(std::memory_order_relaxed);
    const bool differs = latencyNow != holding.frames || late != holding.late;
    if (differs && (blend.isSilent() || position == 0))
    {
        holding = {latencyNow, late};
        for (auto* delay : {&heldBackSpot, &heldBackRoom})
        {
            delay->setLatency(latencyNow);
            (void)delay->setAlignment({}, true);
            delay->reset();
        }
        roomPause = position == 0 || late ? 0 : latencyNow;
        return roomPause > 0;
    }
    return differs || roomPause > 0;
}

void Engine::align(const Controls& controls, const BlindSwitch::Now& trial, int latencyNow) noexcept
{
    const bool wholeSamples = trial.engaged ? trial.blends->wholeSamples : controls.wholeSamples;
    for (std::size_t i = 0; i < delays.size(); ++i)
    {
        Alignment wanted; // as recorded
        if (!trial.engaged)
            wanted = alignmentOf(i, controls);
        else if (trial.aligned)
            wanted = trial.blends->aligned.side[i];
        delays[i].setLatency(latencyNow);
        heard[i].store(delays[i].setAlignment(wanted, wholeSamples), std::memory_order_relaxed);
        if (position == 0) delays[i].jump(); // nothing was heard before, so there is nothing to fade from
    }
}

Alignment Engine::alignmentOf(std::size_t side, const Controls& controls) const noexcept
{
    const auto word = applied[side].load(std::memory_order_relaxed);
    // As recorded, also while nothing has been taken yet, lean or not.
    if (controls.bypassed || !controls.aligned || word == nothingHeld) return {};
    auto wanted = unpack(word);
    wanted.lag = wholeNanoseconds(wanted.lag + controls.lean);
    return wanted;
}

void Engine::reset() noexcept
{
    for (auto& delay : delays) delay.reset();
    heldBackSpot.reset();
    heldBackRoom.reset();
}

// --------------------------------------------------------------------------------------------------- worker

bool Engine::work(const Controls& controls)
{
    blindSwitch.work(); // takes a while now and then: outside of the lock
    const std::scoped_lock alone(workLock);
    return workAlone(controls);
}

void Engine::workOffline(const Controls& controls) noexcept
{
    const std::scoped_lock alone(workLock);
    workAlone(controls);
}

void Engine::heedOffline(const Controls& controls) noexcept
{
    const std::scoped_lock alone(workLock);
    heed(controls);
}

bool Engine::heed(const Controls& controls)
{
    const int wish = request.exchange(0, std::memory_order_relaxed);
    if (wish == wishMeasuring && phase() == Phase::frozen) measure();
    if (wish == wishFreezing && phase() != Phase::frozen) freeze(controls);
    if (phase() == Phase::frozen) return false;
    if (const auto wanted = wantedSettings(controls); !(wanted == measured)) prepareMeasuring(wanted);
    return true;
}

bool Engine::workAlone(const Controls& controls)
{
    if (!heed(controls)) return false;

    const auto begun = beginnings.load();
    const bool news = able.load() && measuring.work();
    const bool shallFreeze = controls.freezeWhenSettled && phase() == Phase::settled;
    if (!news && !shallFreeze) return false;

    const auto latest = measuring.report();
    const std::scoped_lock guard(followLock);
    if (begun != beginnings.load()) return true; // somebody began anew meanwhile: this report is of what was before
    if (follow.consider(latest, controls.clap, controls.eachSide, controls.freezeWhenSettled)) publish();
    return true;
}

void Engine::publish()
{
    const auto& held = follow.held();
    for (std::size_t i = 0; i < applied.size(); ++i)
        applied[i].store(held ? pack(held->side[i]) : nothingHeld, std::memory_order_relaxed);
    phaseNow.store(follow.phase(), std::memory_order_relaxed);
    changes.fetch_add(1, std::memory_order_release);
    if (onChange) onChange();
}

// --------------------------------------------------------------------------------------------------- screen

void Engine::startOver()
{
    beginnings.fetch_add(1);
    measuring.startOver();
}

void Engine::measure()
{
    const std::scoped_lock guard(followLock);
    follow.measure();
    startOver();
    publish();
}

void Engine::freeze(const Controls& controls)
{
    const auto latest = measuring.report();
    const std::scoped_lock guard(followLock);
    follow.freeze(latest, controls.clap, controls.eachSide);
    publish();
}

bool Engine::apply(const Controls& controls)
{
    const auto latest = measuring.report();
    const std::scoped_lock guard(followLock);
    const bool taken = follow.apply(latest, controls.eachSide);
    if (taken) publish();
    return taken;
}

void Engine::setByHand(const Sides& wanted, bool sameGesture)
{
    Sides limited = wanted;
    for (auto& side : limited.side)
        side.lag = std::isfinite(side.lag) ? wholeNanoseconds(std::clamp(side.lag, minLagByHand, maxLagByHand)) : 0.0;
    const std::scoped_lock guard(followLock);
    follow.setByHand(limited, sameGesture);
    publish();
}

void Engine::setLagByHand(double seconds, bool sameGesture)
{
    auto sides = held().value_or(Sides{});
    for (auto& side : sides.side) side.lag = seconds;
    setByHand(sides, sameGesture);
}

void Engine::setPolarity(Polarity polarity)
{
    auto sides = held().value_or(Sides{});
    for (auto& side : sides.side) side.polarity = polarity;
    setByHand(sides);
}

void Engine::nudge(double seconds)
{
    auto sides = held().value_or(Sides{});
    for (auto& side : sides.side) side.lag += seconds;
    setByHand(sides);
}

void Engine::nudgeSamples(int samples)
{
    nudge(samples / streams.sampleRate);
}

bool Engine::undo()
{
    const std::scoped_lock guard(followLock);
    if (!follow.undo()) return false;
    if (follow.phase() != Phase::frozen) startOver(); // else the same hits would be taken again at once
    publish();
    return true;
}

Report Engine::report() const
{
    if (able.load()) return measuring.report();
    const std::scoped_lock guard(followLock);
    Report none;
    none.reasons = {"Tarry cannot measure here: " + obstacle + "."};
    return none;
}

// ---------------------------------------------------------------------------------------------------- saved

Follow::State Engine::followState() const
{
    const std::scoped_lock guard(followLock);
    return follow.state();
}

std::optional<Follow::State> Engine::undoState() const
{
    const std::scoped_lock guard(followLock);
    return follow.undoState();
}

void Engine::restore(const Follow::State& saved, const std::optional<Follow::State>& undo)
{
    const std::scoped_lock guard(followLock);
    follow.restore(saved, undo);
    request.store(0, std::memory_order_relaxed);
    startOver();
    publish();
}

void Engine::restoreWithUndo(const Follow::State& wanted)
{
    const std::scoped_lock guard(followLock);
    follow.replace(wanted);
    request.store(0, std::memory_order_relaxed);
    startOver();
    publish();
}

Setup Engine::setup() const
{
    const std::scoped_lock guard(followLock);
    return settings;
}

bool Engine::setSetup(const Setup& wanted)
{
    const std::scoped_lock guard(followLock);
    const double before = settings.lookAhead;
    settings = wanted;
    settings.lookAhead = std::clamp(settings.lookAhead, 0.0, maxLookAhead);
    roomLate.store(settings.roomArrivesLate, std::memory_order_relaxed);
    latency.store(static_cast<int>(std::lround(settings.lookAhead * rate.load())), std::memory_order_relaxed);
    blindSwitch.setLookAhead(settings.lookAhead);
    changes.fetch_add(1, std::memory_order_release);
    return settings.lookAhead != before;
}
} // namespace tarry
