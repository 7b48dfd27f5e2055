#include "Core/Capture/HitCapture.h"

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
    before = static_cast<int>(std::ceil((leadIn + s.lookAhead) * rate));
    after = static_cast<int>(std::ceil((s.reach + tail) * rate));
    detector.prepare(rate, spotCount);
    ringFrames = static_cast<std::int64_t>(std::bit_ceil(static_cast<unsigned>(before + after + 1)));
    ring.assign(static_cast<std::size_t>(ringFrames) * static_cast<std::size_t>(spotCount + roomCount), 0.0F);
    reset();
}

void HitCapture::reset(unsigned newGeneration) noexcept
{
    detector.reset();
    std::fill(ring.begin(), ring.end(), 0.0F);
    position = hitsFound = 0;
    pendingCount = 0;
    generation = newGeneration;
}

void HitCapture::process(const float* const* spot, const float* const* room, int frames, HitQueue& queue) noexcept
{
    const auto clean = [](float x) { return std::isfinite(x) ? x : 0.0F; };
    std::array<float, maxSpotChannels> frame{};
    for (int i = 0; i < frames; ++i)
    {
        const std::int64_t slot = position & (ringFrames - 1);
        for (int c = 0; c < spotCount; ++c)
        {
            frame[static_cast<std::size_t>(c)] = clean(spot[c][i]);
            ring[static_cast<std::size_t>(c * ringFrames + slot)] = frame[static_cast<std::size_t>(c)];
        }
        for (int c = 0; c < roomCount; ++c)
            ring[static_cast<std::size_t>((spotCount + c) * ringFrames + slot)] = clean(room[c][i]);
        ++position;
        if (detector.push(frame.data()) && pendingCount < maxPending)
            pending[static_cast<std::size_t>(pendingCount++)] = detector.onset();
        if (pendingCount > 0 && position >= pending[0] + after) closeFull(queue);
    }
}

void HitCapture::finish(HitQueue& queue) noexcept
{
    const std::array<float, maxSpotChannels + maxRoomChannels> silence{};
    std::array<const float*, maxSpotChannels> spot{};
    std::array<const float*, maxRoomChannels> room{};
    spot.fill(silence.data());
    room.fill(silence.data());
    for (int i = 0; i < after + detector.delay(); ++i) process(spot.data(), room.data(), 1, queue);
}

void HitCapture::closeFull(HitQueue& queue) noexcept
{
    if (Hit* hit = queue.beginWrite())
    {
        copyWindow(*hit, pending[0]);
        queue.endWrite();
    }
    ++hitsFound;
    std::copy(pending.begin() + 1, pending.begin() + pendingCount, pending.begin());
    --pendingCount;
}

void HitCapture::copyWindow(Hit& hit, std::int64_t onset) const noexcept
{
    hit.number = hitsFound;
    hit.generation = generation;
    hit.onset = onset;
    hit.before = before;
    hit.sampleRate = rate;
    const auto copy = [&](std::span<float> to, int channel)
    {
        for (std::int64_t i = 0; i < before + after; ++i)
        {
            const std::int64_t at = onset - before + i;
            to[static_cast<std::size_t>(i)] =
                at < 0 ? 0.0F : ring[static_cast<std::size_t>(channel * ringFrames + (at & (ringFrames - 1)))];
        }
    };
    for (int c = 0; c < spotCount; ++c) copy(hit.spot(c), c);
    for (int c = 0; c < roomCount; ++c) copy(hit.room(c), spotCount + c);
}
} // namespace tarry
