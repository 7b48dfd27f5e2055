#include "Plugin/BlindSwitch.h"

#include "Core/Delay.h"
#include "Plugin/Blend.h"
#include "Plugin/Loudness.h"

#include <algorithm>
#include <chrono>
#include <cmath>
#include <cstddef>
#include <thread>
#include <utility>

namespace tarry
{
namespace
{
constexpr float soundThreshold = 1.0e-4F; // linear, -80 dB: a passage begins with the first sample above it
constexpr int renderBlock = 512;          // frames
constexpr double renderTail = 0.5;        // s
} // namespace

/// Holds `busy`: audio tries once, the others wait for the microseconds that audio needs.
class BlindSwitch::Hold
{
public:
    explicit Hold(std::atomic_flag& flagToHold) : flag(flagToHold)
    {
        while (flag.test_and_set(std::memory_order_acquire)) std::this_thread::sleep_for(std::chrono::microseconds(50));
    }
    ~Hold() { flag.clear(std::memory_order_release); }
    Hold(const Hold&) = delete;
    Hold& operator=(const Hold&) = delete;
    Hold(Hold&&) = delete;
    Hold& operator=(Hold&&) = delete;

private:
    std::atomic_flag& flag;
};

// ---------------------------------------------------------------------------------------------------- setup

void BlindSwitch::prepare(const Shape& shapeNow)
{
    const std::scoped_lock guard(setupLock);
    const Hold hold(busy);
    form = shapeNow;
    ++beginnings;
    running.store(false);
    matched.store(false);
    recording.store(false);
    wanted = current = {};
    seen = requests.load();
    move = Move::open;
    gain = 1.0F;
}

void BlindSwitch::start(const Blends& blends)
{
    const std::scoped_lock guard(setupLock);
    Passage fresh;
    passageFrames = std::llround(passageSeconds * form.sampleRate);
    fresh.spot.assign(static_cast<std::size_t>(form.spotChannels), {});
    fresh.room.assign(static_cast<std::size_t>(form.roomChannels), {});
    for (auto* part : {&fresh.spot, &fresh.room})
        for (auto& channel : *part) channel.assign(static_cast<std::size_t>(passageFrames), 0.0F);
    ++beginnings;
    difference.reset();
    matched.store(false);
    const Hold hold(busy);
    std::swap(passage, fresh); // the old one is freed after `hold` is let go: audio never waits for it
    wanted.blends = blends;
    filled.store(0);
    recording.store(true, std::memory_order_release);
    running.store(true, std::memory_order_release);
}

void BlindSwitch::hear(bool aligned, bool fresh)
{
    const std::scoped_lock guard(setupLock);
    if (!isRunning() || !isMatched()) return;
    if (fresh)
    {
        alignedUsed = alignedGain;
        recordedUsed = recordedGain;
    }
    const Hold hold(busy);
    wanted.engaged = true;
    wanted.aligned = aligned;
    wanted.level = aligned ? alignedUsed : recordedUsed;
    requests.fetch_add(1, std::memory_order_release);
}

void BlindSwitch::stop()
{
    const std::scoped_lock guard(setupLock);
    if (!isRunning()) return;
    ++beginnings;
    const Hold hold(busy);
    running.store(false, std::memory_order_release);
    recording.store(false);
    const bool heard = wanted.engaged;
    wanted.engaged = false;
    wanted.level = 1.0;
    if (heard) requests.fetch_add(1, std::memory_order_release);
}

double BlindSwitch::secondsLeft() const noexcept
{
    const double heard = static_cast<double>(filled.load(std::memory_order_relaxed)) / form.sampleRate;
    return std::max(0.0, passageSeconds - heard);
}

std::optional<double> BlindSwitch::loudnessDifference() const
{
    const std::scoped_lock guard(setupLock);
    return difference;
}

// --------------------------------------------------------------------------------------------------- worker

void BlindSwitch::work()
{
    if (!isRunning()) return;
    Passage copy;
    Blends blends;
    Shape shapeNow;
    unsigned begun = 0;
    {
        const std::scoped_lock guard(setupLock);
        if (!isRunning() || recording.load(std::memory_order_acquire)) return; // not full yet
        copy = passage;                                                        // audio leaves a full one alone
        blends = wanted.blends;
        shapeNow = form;
        begun = beginnings;
    }
    const auto aligned = integratedLoudness(render(copy, shapeNow, blends, true), shapeNow.sampleRate);
    const auto recorded = integratedLoudness(render(copy, shapeNow, blends, false), shapeNow.sampleRate);

    const std::scoped_lock guard(setupLock);
    if (begun != beginnings) return; // ended or begun anew meanwhile
    if (aligned && recorded)         // else too quiet to measure: the gains stay, and the next passage is tried
    {
        const auto match = matchLoudness(*aligned, *recorded);
        alignedGain = match.first;
        recordedGain = match.second;
        difference = match.difference;
        matched.store(true, std::memory_order_release);
    }
    filled.store(0);
    recording.store(true, std::memory_order_release);
}

std::vector<std::vector<float>> BlindSwitch::render(const Passage& passage, const Shape& shape, const Blends& blends,
                                                    bool aligned)
{
    const auto frames = passage.spot.front().size();
    const auto tail = static_cast<std::size_t>(std::lround(renderTail * shape.sampleRate));
    auto output = passage.spot;
    auto room = passage.room;
    for (auto* part : {&output, &room})
        for (auto& channel : *part) channel.resize(frames + tail, 0.0F);
    room.resize(maxSpotChannels, std::vector<float>(frames + tail)); // channels that are not there are never read

    for (std::size_t i = 0; i < output.size(); ++i)
    {
        Delay delay;
        delay.prepare(shape.sampleRate, 1, shape.maxDelay, shape.lookAhead);
        delay.setAlignment(aligned ? blends.aligned.side[i] : Alignment{}, blends.wholeSamples);
        delay.jump();
        auto* channel = output[i].data();
        delay.process(&channel, static_cast<int>(frames + tail));
    }
    Blend blend;
    blend.prepare(shape.sampleRate, shape.spotChannels, shape.roomChannels);
    for (std::size_t at = 0; at < frames + tail; at += renderBlock)
    {
        std::array<float*, maxSpotChannels> spotNow{};
        for (std::size_t i = 0; i < output.size(); ++i) spotNow[i] = output[i].data() + at;
        blend.add(spotNow, {room[0].data() + at, room[1].data() + at},
                  static_cast<int>(std::min<std::size_t>(renderBlock, frames + tail - at)), blends.roomGain, true);
    }
    return output;
}

// ---------------------------------------------------------------------------------------------------- audio

BlindSwitch::Now BlindSwitch::advance(int frames, bool possible) noexcept
{
    if (!possible)
    {
        move = Move::open;
        gain = 1.0F;
        if (!current.engaged) return {}; // what was asked for meanwhile is heard when it is possible again
        current = {};
        seen = requests.load(std::memory_order_acquire) - 1; // and so is this
        return {};
    }
    if (move == Move::open && seen != requests.load(std::memory_order_acquire)) move = Move::closing;
    if (move == Move::closing && gain == 0.0F && !busy.test_and_set(std::memory_order_acquire))
    {
        current = wanted;
        seen = requests.load(std::memory_order_relaxed);
        busy.clear(std::memory_order_release);
        silence = static_cast<int>(silenceSeconds * form.sampleRate);
        move = Move::silent;
    }
    else if (move == Move::silent && (silence -= frames) <= 0)
        move = Move::opening;
    else if (move == Move::opening && gain == static_cast<float>(current.level))
        move = Move::open;
    return {current.engaged, current.aligned, &current.blends};
}

void BlindSwitch::record(const std::array<float*, maxSpotChannels>& spot,
                         const std::array<float*, maxSpotChannels>& room, int frames) noexcept
{
    if (!recording.load(std::memory_order_acquire)) return;
    if (busy.test_and_set(std::memory_order_acquire)) return; // it is being begun or ended
    if (recording.load(std::memory_order_relaxed))
    {
        const auto at = filled.load(std::memory_order_relaxed);
        const auto count = static_cast<std::size_t>(std::min<std::int64_t>(frames, passageFrames - at));
        bool sounds = at > 0;
        for (std::size_t i = 0; i < passage.spot.size() && !sounds; ++i)
            sounds = std::any_of(spot[i], spot[i] + count, [](float x) { return std::abs(x) > soundThreshold; });
        if (sounds)
        {
            for (std::size_t i = 0; i < passage.spot.size(); ++i)
                std::copy_n(spot[i], count, passage.spot[i].data() + at);
            for (std::size_t i = 0; i < passage.room.size(); ++i)
                std::copy_n(room[i], count, passage.room[i].data() + at);
            filled.store(at + static_cast<std::int64_t>(count), std::memory_order_relaxed);
            if (at + static_cast<std::int64_t>(count) == passageFrames)
                recording.store(false, std::memory_order_release);
        }
    }
    busy.clear(std::memory_order_release);
}

void BlindSwitch::shape(const std::array<float*, maxSpotChannels>& output, int frames) noexcept
{
    const bool down = move == Move::closing || move == Move::silent;
    const auto level = static_cast<float>(current.level);
    const float target = down ? 0.0F : level;
    if (gain == 1.0F && target == 1.0F) return;
    // From any level to silence in the same time: the length of a dip must not tell which side was louder.
    const float step = std::max(level, 1.0e-6F) / static_cast<float>(dipSeconds * form.sampleRate);
    for (std::size_t k = 0; k < static_cast<std::size_t>(frames); ++k)
    {
        const float rest = target - gain;
        gain = std::abs(rest) <= step ? target : gain + std::copysign(step, rest);
        for (std::size_t i = 0; i < static_cast<std::size_t>(form.spotChannels); ++i) output[i][k] *= gain;
    }
}
} // namespace tarry
