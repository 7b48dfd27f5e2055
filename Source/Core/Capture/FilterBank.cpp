#include "Core/Capture/FilterBank.h"

#include <cmath>

namespace tarry
{
namespace
{
// What a filter still remembers of a sound long gone. Far below anything that counts (an energy of 1e-10), and far
// above the numbers that a processor is slow with (1e-308).
constexpr double forgotten = 1e-60;
} // namespace

void FilterBank::prepare(double sampleRate, int count)
{
    channelCount = count;
    filter = BandLanes::filter(sampleRate);
    reset();
}

void FilterBank::reset() noexcept
{
    memories = {};
    sums = Lanes{};
}

// Both sides in one loop, for each waits on its own last sample; without `both` the right is not counted.
TARRY_ALSO_FOR_AVX
void FilterBank::run(const BandLanes::Filter& filter, Memories& memories, Lanes& sums, const float* left,
                     const float* right, bool both, int frames) noexcept
{
    const BandLanes::Section high = filter[0], low = filter[1];
    BandLanes::Memory h[2] = {memories[0][0], memories[1][0]}, l[2] = {memories[0][1], memories[1][1]};
    Lanes sum = sums;
    for (int i = 0; i < frames; ++i)
    {
        const double in[2] = {static_cast<double>(left[i]), static_cast<double>(right[i])};
        Lanes z[2];
        for (std::size_t c = 0; c < 2; ++c)
        {
            const Lanes x = {in[c], in[c], in[c], in[c]};
            const Lanes y = high.b0 * x + h[c].s1;
            h[c].s1 = (high.b1 * x + h[c].s2) - high.a1 * y;
            h[c].s2 = high.b2 * x - high.a2 * y;
            z[c] = low.b0 * y + l[c].s1;
            l[c].s1 = (low.b1 * y + l[c].s2) - low.a1 * z[c];
            l[c].s2 = low.b2 * y - low.a2 * z[c];
        }
        sum += z[0] * z[0];
        if (both) sum += z[1] * z[1];
    }
    memories = {{{h[0], l[0]}, {h[1], l[1]}}};
    sums = sum;
}

void FilterBank::push(const float* const* channels, int frames) noexcept
{
    run(filter, memories, sums, channels[0], channels[channelCount - 1], channelCount > 1, frames);
}

std::array<double, bandCount> FilterBank::takeSums() noexcept
{
    for (auto& channel : memories)
        for (BandLanes::Memory& m : channel)
            for (Lanes* lanes : {&m.s1, &m.s2})
                for (std::size_t b = 0; b < bandCount; ++b)
                    if (std::abs((*lanes)[b]) < forgotten) (*lanes)[b] = 0.0;
    std::array<double, bandCount> taken{};
    for (std::size_t b = 0; b < bandCount; ++b) taken[b] = sums[b];
    sums = Lanes{};
    return taken;
}
} // namespace tarry
