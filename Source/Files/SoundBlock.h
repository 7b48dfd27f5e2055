#pragma once
#include <cstddef>
#include <vector>

namespace tarry
{
/// Where each channel's samples start, as readers, writers and delays take them.
template <typename Channels>
[[nodiscard]] auto pointersTo(Channels& channels)
{
    std::vector<decltype(channels.front().data())> pointers;
    pointers.reserve(channels.size());
    for (auto& channel : channels) pointers.push_back(channel.data());
    return pointers;
}

/// Room for a stretch of several channels, read into again and again.
struct SoundBlock
{
    SoundBlock(int channels, int frames)
        : samples(static_cast<std::size_t>(channels), std::vector<float>(static_cast<std::size_t>(frames))),
          pointers(pointersTo(samples))
    {
    }

    std::vector<std::vector<float>> samples;
    std::vector<float*> pointers;
};
} // namespace tarry
