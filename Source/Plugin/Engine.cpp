// Audio's part of the engine, and its setup.
#include "Plugin/Engine.h"

#include "Core/Ground/Samples.h"

#include <algorithm>
#include <cmath>

namespace tarry
{
namespace
{
/// For judging, two channels of the room are enough: the main pair, which layouts put first.
int judgedChannels(const Streams& streams)
{
    return std::min(streams.roomChannels, maxSpotChannels);
}
} // namespace

void Engine::prepare(const Streams& shape, const Controls& controls)
{
    const std::scoped_lock noWorker(workLock);
    streams = shape;
    rate.store(shape.sampleRate);
    const double lookAhead = setup().lookAhead;
    for (auto& delay : delays) delay.prepare(streams.sampleRate, 1, maxDelay, maxLookAhead);
    heldBackSpot.prepare(streams.sampleRate, maxSpotChannels, 0.0, maxLookAhead);
    heldBackRoom.prepare(streams.sampleRate, streams.roomChannels, 0.0, maxLookAhead);
    latency.store(static_cast<int>(std::lround(lookAhead * streams.sampleRate)), std::memory_order_relaxed);
    roomPause = 0;
    for (auto& channel : spotScratch) channel.assign(chunk, 0.0F);
    for (auto& channel : roomScratch) channel.assign(chunk, 0.0F);
    position = 0;
    rendering = false;
    rest.store(0, std::memory_order_relaxed);
    blend.prepare(streams.sampleRate, streams.spotChannels, judgedChannels(streams));
    blindSwitch.prepare({streams.sampleRate, streams.spotChannels, judgedChannels(streams), maxDelay, lookAhead});
    prepareMeasuring(wantedSettings(controls));
}

void Engine::process(float* const* spot, const float* const* room, int frames, const Controls& turned,
                     bool offline) noexcept
{
    const auto controls = underLock(turned);
    beginRender(offline);
    if (offline) heedOffline(controls); // a parameter changed since the last block counts from this block's start
    int done = 0;
    while (done < frames)
    {
        // Cut at fixed places of the stream, so that an offline render never depends on the size of its blocks.
        const int n = std::min(frames - done, chunk - static_cast<int>(position % chunk));
        SpotChannels spotNow{};
        RoomChannels roomNow{};
        for (std::size_t i = 0; i < static_cast<std::size_t>(streams.spotChannels); ++i) spotNow[i] = spot[i] + done;
        for (std::size_t i = 0; i < static_cast<std::size_t>(streams.roomChannels); ++i) roomNow[i] = room[i] + done;
        processChunk(spotNow, roomNow, n, controls, offline);
        done += n;
        position += n;
        if (offline && position % chunk == 0) workOffline(controls);
    }
}

/// While locked, what was turned when the lock went on goes on being heard, but for the host's bypass.
Controls Engine::underLock(const Controls& turned) noexcept
{
    const bool records = hostRecords.load(std::memory_order_relaxed);
    const bool locks = turned.lock || (records && lockWhileRecording.load(std::memory_order_relaxed));
    if (locks != lockedNow.exchange(locks, std::memory_order_relaxed)) changes.fetch_add(1, std::memory_order_release);
    if (!locks)
        lockedControls.reset();
    else if (!lockedControls)
        lockedControls = turned;
    auto controls = lockedControls.value_or(turned);
    controls.bypassed = turned.bypassed;
    return controls;
}

void Engine::beginRender(bool offline) noexcept
{
    if (offline && !rendering)
        for (std::size_t i = 0; i < renderHolds.size(); ++i) renderHolds[i] = applied.load(i);
    rendering = offline;
    // A host that renders does not mind what its thread does.
    if (offline && phase() != Phase::frozen && !unsettledRender.exchange(true) && onChange) onChange();
}

void Engine::processChunk(const SpotChannels& spot, const RoomChannels& room, int frames, const Controls& controls,
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

    SpotChannels spotAsRecorded{};
    std::array<float*, maxRoomChannels> roomAsRecorded{};
    for (std::size_t i = 0; i < spotAsRecorded.size(); ++i) spotAsRecorded[i] = spotScratch[i].data();
    // Stays silent where no room is connected.
    for (std::size_t i = 0; i < roomAsRecorded.size(); ++i) roomAsRecorded[i] = roomScratch[i].data();

    const int latencyNow = latency.load(std::memory_order_relaxed);
    const bool roomPauses = holdBack(latencyNow);
    roomPause = std::max(0, roomPause - frames);

    // The spot leaves here later by the latency. A room that already arrives late by as much lies right for the blend,
    // and is measured against a spot held back; a room that does not is measured at once and then held back.
    const bool late = holding.late;
    const bool held = holding.frames > 0;
    if (held && late) heldBackSpot.process(spotAsRecorded.data(), frames);
    measure(spotAsRecorded.data(), roomAsRecorded.data(), frames, offline);
    if (held && !late) heldBackRoom.process(roomAsRecorded.data(), frames);

    // For judging only, blend and trial alike: never in a bypassed insert, never in a print.
    const bool judging = !controls.bypassed && !offline;
    if (judging) blindSwitch.record(spot, {roomAsRecorded[0], roomAsRecorded[1]}, frames);
    const auto trial = blindSwitch.advance(frames, judging, offline);
    align(controls, trial, latencyNow);
    for (std::size_t i = 0; i < static_cast<std::size_t>(streams.spotChannels); ++i)
        delays[i].process(&spot[i], frames);

    const double roomGain = trial.engaged ? trial.blends->roomGain : controls.blend ? controls.blendGain : 0.0;
    blend.add(spot, {roomAsRecorded[0], roomAsRecorded[1]}, frames, judging && !roomPauses ? roomGain : 0.0,
              offline || position == 0);
    blindSwitch.shape(spot, frames);
}

void Engine::measure(const float* const* spot, const float* const* room, int frames, bool offline) noexcept
{
    if (locked() || isWhole.load(std::memory_order_relaxed)) return;
    if (phase() == Phase::frozen)
    {
        if (offline || !watching.load(std::memory_order_relaxed)) return;
        if (const int left = rest.load(std::memory_order_relaxed); left > 0)
        {
            rest.store(left - frames, std::memory_order_relaxed);
            return;
        }
    }
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
        // Hits from before and after would not lie on one scale of lags.
        if (position != 0 && (latencyNow > 0 || holding.frames > 0)) startOver();
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
        else if (trial.blends->other)
            wanted = trial.blends->other->side[i];
        delays[i].setLatency(latencyNow);
        heard[i].store(delays[i].setAlignment(wanted, wholeSamples), std::memory_order_relaxed);
        if (position == 0) delays[i].jump(); // nothing was heard before, so there is nothing to fade from
    }
}

Alignment Engine::alignmentOf(std::size_t side, const Controls& controls) const noexcept
{
    const auto held = rendering ? renderHolds[side] : applied.load(side);
    // As recorded, also while nothing has been taken yet, lean or not.
    if (controls.bypassed || !held) return {};
    if (controls.aligned) return leaned(*held, controls.lean);
    const auto other = controls.compareLags && !rendering ? besideWords.load(side) : std::nullopt;
    return other ? leaned(*other, controls.lean) : Alignment{};
}

void Engine::reset() noexcept
{
    for (auto& delay : delays) delay.reset();
    heldBackSpot.reset();
    heldBackRoom.reset();
}
} // namespace tarry
