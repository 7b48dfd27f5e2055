#pragma once
#include "Core/Capture/Hit.h"

#include <atomic>
#include <vector>

namespace tarry
{
/// Single producer, single consumer: hits from the audio thread to the worker. Never blocks, never allocates after
/// `prepare`; when full the hit is dropped and counted.
class HitQueue
{
public:
    void prepare(int slots, int spotChannels, int roomChannels, int frames); // [setup]

    /// A slot to fill, or nullptr when the queue is full (then the loss is counted). [audio]
    Hit* beginWrite() noexcept;
    /// Hands over the slot that beginWrite gave. [audio]
    void endWrite() noexcept;

    /// The oldest hit, or nullptr. [worker]
    [[nodiscard]] const Hit* beginRead() const noexcept;
    /// Gives the slot back. [worker]
    void endRead() noexcept;

    [[nodiscard]] int lost() const noexcept { return lostCount.load(std::memory_order_relaxed); } // any thread

private:
    std::vector<Hit> ring;
    std::atomic<unsigned> written{0}, read{0};
    std::atomic<int> lostCount{0};
};
} // namespace tarry
