#include "Standalone/Cursor.h"

#include <algorithm>
#include <cmath>

namespace tarry::standalone
{
void Cursor::prepare(double sampleRate, std::int64_t frames) noexcept
{
    const auto count = [sampleRate](double seconds) { return std::max(1, static_cast<int>(seconds * sampleRate)); };
    riseFrames = count(rise);
    fallFrames = count(fall);
    gapFrames = count(gap);
    length = frames;
    place = 0;
    jumpTo = -1;
    rising = falling = silent = 0;
    playing = false;
    wantsPlay.store(false, std::memory_order_relaxed);
    wantsAt.store(-1, std::memory_order_relaxed);
    shown.store(0, std::memory_order_relaxed);
}

bool Cursor::begin() noexcept
{
    if (const auto asked = wantsAt.exchange(-1, std::memory_order_relaxed); asked >= 0 && length > 0)
    {
        jumpTo = std::min(asked, length - 1);
        if (playing && silent == 0 && falling == 0) falling = fallFrames;
        if (!playing || silent > 0) leave();
    }
    const bool wanted = wantsPlay.load(std::memory_order_relaxed) && length > 0;
    if (wanted && !playing && falling == 0)
    {
        playing = true;
        silent = 0;
        rising = place > 0 ? riseFrames : 0;
    }
    if (!wanted && playing && falling == 0)
    {
        if (silent > 0) // between two rounds
            playing = false;
        else
            falling = fallFrames;
    }
    return playing || silent > 0;
}

/// After a fall: goes where it was sent, or comes to rest.
void Cursor::leave() noexcept
{
    if (jumpTo >= 0)
    {
        place = jumpTo;
        jumpTo = -1;
        if (playing) silent = 0;
        shown.store(place, std::memory_order_relaxed);
    }
    if (!playing) return;
    if (wantsPlay.load(std::memory_order_relaxed))
        rising = place > 0 ? riseFrames : 0; // also where it was stopped and started again while it fell
    else
    {
        playing = false;
        silent = gapFrames;
    }
}

Cursor::Step Cursor::next() noexcept
{
    if (silent > 0)
    {
        --silent;
        return {-1, 0.0F};
    }
    if (!playing) return {-1, 0.0F};

    float gain = 1.0F;
    if (rising > 0) gain -= static_cast<float>(rising--) / static_cast<float>(riseFrames);
    const auto left = length - place;
    if (left <= fallFrames) gain *= static_cast<float>(left - 1) / static_cast<float>(fallFrames);
    if (falling > 0) gain *= static_cast<float>(falling - 1) / static_cast<float>(fallFrames);
    const Step step{place, gain};

    ++place;
    if (falling > 0 && --falling == 0) leave();
    if (place == length)
    {
        place = 0;
        rising = falling = 0;
        silent = gapFrames;
        if (jumpTo >= 0) leave();
        if (!wantsLoop.load(std::memory_order_relaxed) && silent > 0)
        {
            playing = false;
            wantsPlay.store(false, std::memory_order_relaxed);
        }
    }
    return step;
}
} // namespace tarry::standalone
