#include "Core/Capture/HitCapture.h"

#include "Core/Ground/LagGrid.h"
#include "Core/Ground/Samples.h"

#include <algorithm>
#include <bit>
#include <cmath>
#include <stdexcept>

namespace tarry
{
namespace
{
constexpr double leadIn = 0.120; // s ahead of an attack: 60 ms of what was there before, and time for filters to settle
constexpr double tail = 0.090;   // s after the latest arrival: the first 60 ms of the room's low end, and some

void check(bool good, const char* what)
{
    if (!good) throw std::invalid_argument(what);
}
} // namespace

void HitCapture::prepare(const MeasureSettings& s)
{
    check(s.sampleRate >= 8000.0 && s.sampleRate <= 400000.0, "sample rate out of range");
    check(s.spotChannels >= 1 && s.spotChannels <= maxSpotChannels, "the spot has to have one or two channels");
    check(s.roomChannels >= 1 && s.roomChannels <= maxRoomChannels, "the room has to have one to eight channels");
    check(s.reach >= 0.005 && s.reach <= 0.2, "reach has to lie between 5 and 200 ms");
    check(s.lookAhead >= 0.0 && s.lookAhead <= 0.1, "look-ahead has to lie between 0 and 100 ms");
    rate = s.sampleRate;
    spotCount = s.spotChannels;
    roomCount = s.roomChannels;
    before = static_cast<int>(std::ceil((leadIn + std::max(s.lookAhead, LagGrid::leftSeconds)) * rate));
    after = static_cast<int>(std::ceil((s.reach + tail) * rate));
    detector.prepare(rate, spotCount);
    // A window is copied faster than it is written over, so the ring needs no more than that and the hop it began in.
    ringFrames = std::bit_ceil(static_cast<unsigned>(before + after + detector.framesToDecision()));
    ring.assign(static_cast<std::size_t>(ringFrames) * static_cast<std::size_t>(spotCount + roomCount), 0.0F);
    reset();
}

void HitCapture::reset(unsigned newGeneration) noexcept
{
    detector.reset();
    position = hitsFound = 0;
    pendingCount = 0;
    copying = nullptr;
    generation = newGeneration;
}

void HitCapture::process(const float* const* spot, const float* const* room, int frames, HitQueue& queue) noexcept
{
    for (int done = 0; done < frames;)
    {
        const auto slot = position & (ringFrames - 1);
        const int n =
            static_cast<int>(std::min<std::int64_t>({frames - done, detector.framesToDecision(), ringFrames - slot}));
        write(spot, room, done, n);
        std::array<const float*, maxSpotChannels> heard{};
        for (int c = 0; c < spotCount; ++c) heard[static_cast<std::size_t>(c)] = track(c) + slot;
        position += n;
        done += n;
        if (detector.push(heard.data(), n) && pendingCount < maxPending)
            pending[static_cast<std::size_t>(pendingCount++)] = detector.onset();
        copyOn(queue);
    }
}

void HitCapture::write(const float* const* spot, const float* const* room, int from, int frames) noexcept
{
    const auto slot = position & (ringFrames - 1);
    for (int c = 0; c < spotCount; ++c) std::transform(spot[c] + from, spot[c] + from + frames, track(c) + slot, sound);
    for (int c = 0; c < roomCount; ++c)
        std::transform(room[c] + from, room[c] + from + frames, track(spotCount + c) + slot, sound);
}

void HitCapture::finish(HitQueue& queue) noexcept
{
    constexpr int piece = 64;
    const std::array<float, piece> silence{};
    std::array<const float*, maxSpotChannels> spot{};
    std::array<const float*, maxRoomChannels> room{};
    spot.fill(silence.data());
    room.fill(silence.data());
    for (int left = after + detector.delay() + windowFrames() / copiedAtOnce + 1; left > 0; left -= piece)
        process(spot.data(), room.data(), std::min(left, piece), queue);
}

void HitCapture::copyOn(HitQueue& queue) noexcept
{
    while (copying != nullptr || (pendingCount > 0 && position >= pending[0] + after))
    {
        if (copying == nullptr)
        {
            begin(queue);
            continue;
        }
        const int to = static_cast<int>(std::min<std::int64_t>(windowFrames(), copiedAtOnce * (position - copyStart)));
        while (copied < to)
        {
            const std::int64_t at = copying->onset - before + copied, slot = at & (ringFrames - 1);
            const bool isBeforeStart = at < 0;
            const auto n = std::min<std::int64_t>(to - copied, isBeforeStart ? -at : ringFrames - slot);
            for (int c = 0; c < spotCount + roomCount; ++c)
            {
                float* out = (c < spotCount ? copying->spot(c) : copying->room(c - spotCount)).data() + copied;
                if (isBeforeStart)
                    std::fill_n(out, n, 0.0F);
                else
                    std::copy_n(track(c) + slot, n, out);
            }
            copied += static_cast<int>(n);
        }
        if (copied < windowFrames()) return;
        copying = nullptr;
        queue.endWrite();
    }
}

void HitCapture::begin(HitQueue& queue) noexcept
{
    const std::int64_t onset = pending[0];
    std::copy(pending.begin() + 1, pending.begin() + pendingCount, pending.begin());
    --pendingCount;
    copying = queue.beginWrite();
    if (copying != nullptr)
    {
        copying->number = hitsFound;
        copying->generation = generation;
        copying->onset = onset;
        copying->before = before;
        copying->sampleRate = rate;
        copyStart = onset + after;
        copied = 0;
    }
    ++hitsFound;
}
} // namespace tarry
