#include "Core/Capture/HitQueue.h"

namespace tarry
{
void HitQueue::prepare(int slots, int spotChannels, int roomChannels, int frames)
{
    ring.resize(static_cast<std::size_t>(std::max(1, slots)));
    for (Hit& hit : ring) hit.resize(spotChannels, roomChannels, frames);
    written = 0;
    read = 0;
    lostCount = 0;
}

Hit* HitQueue::beginWrite() noexcept
{
    const unsigned w = written.load(std::memory_order_relaxed);
    if (w - read.load(std::memory_order_acquire) >= ring.size())
    {
        lostCount.fetch_add(1, std::memory_order_relaxed);
        return nullptr;
    }
    return &ring[w % ring.size()];
}

void HitQueue::endWrite() noexcept
{
    written.fetch_add(1, std::memory_order_release);
}

const Hit* HitQueue::beginRead() const noexcept
{
    const unsigned r = read.load(std::memory_order_relaxed);
    return r == written.load(std::memory_order_acquire) ? nullptr : &ring[r % ring.size()];
}

void HitQueue::endRead() noexcept
{
    read.fetch_add(1, std::memory_order_release);
}
} // namespace tarry
