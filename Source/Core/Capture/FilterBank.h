#pragma once
#include "Core/Ground/Bands.h"
#include "Core/Ground/Lanes.h"
#include "Core/Ground/Types.h"

#include <array>

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
    static_assert(bandCount == 4, "a lane a band");
    static constexpr std::size_t sections = 2; // of a BandFilter: high-pass, low-pass

    struct Section
    {
        Lanes b0, b1, b2, a1, a2;
    };
    struct Memory
    {
        Lanes s1{}, s2{};
    };

    using Filter = std::array<Section, sections>;
    using Memories = std::array<std::array<Memory, sections>, maxSpotChannels>;

    static void run(const Filter& filter, Memories& memories, Lanes& sums, const float* left, const float* right,
                    bool both, int frames) noexcept;

    Filter filter{};
    Memories memories{};
    Lanes sums{};
    int channelCount = 1;
};
} // namespace tarry
