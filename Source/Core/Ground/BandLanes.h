#pragma once
#include "Core/Ground/Bands.h"
#include "Core/Ground/Lanes.h"

namespace tarry
{
/// The band filters side by side, a lane a band: to the last bit what BandFilter gives, band after band. Data only: who
/// runs them writes the loop, for the compiler takes vectors apart before it puts functions together.
struct BandLanes
{
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
    using Memories = std::array<Memory, sections>;

    [[nodiscard]] static Filter filter(double sampleRate)
    {
        Filter result{};
        for (std::size_t b = 0; b < bandCount; ++b)
        {
            const auto biquads = BandFilter(bands[b], sampleRate).sections();
            for (std::size_t s = 0; s < sections; ++s)
            {
                const auto c = biquads[s].coefficients();
                result[s].b0[b] = c[0];
                result[s].b1[b] = c[1];
                result[s].b2[b] = c[2];
                result[s].a1[b] = c[3];
                result[s].a2[b] = c[4];
            }
        }
        return result;
    }
};
} // namespace tarry
