#pragma once
#include "Core/Ground/BandLanes.h"
#include "Core/Ground/Types.h"

namespace tarry
{
/// The band filters of every spot channel side by side, a lane a band, and the energy that leaves them. To the last bit
/// what BandFilter gives, band after band. [audio]
class FilterBank
{
public:
    void prepare(double sampleRate, int channels); // [setup]
    void reset() noexcept;

    /// Filters `frames` of every channel and adds up what leaves each band, squared, over time and channels.
    void push(const float* const* channels, int frames) noexcept;

    /// The sums since the last call, which begin anew.
    [[nodiscard]] std::array<double, bandCount> takeSums() noexcept;

private:
    using Memories = std::array<BandLanes::Memories, maxSpotChannels>;

    static void run(const BandLanes::Filter& filter, Memories& memories, Lanes& sums, const float* left,
                    const float* right, bool both, int frames) noexcept;

    BandLanes::Filter filter{};
    Memories memories{};
    Lanes sums{};
    int channelCount = 1;
};
} // namespace tarry
