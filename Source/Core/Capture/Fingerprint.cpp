#include "Core/Capture/Fingerprint.h"

#include <bit>
#include <cmath>

namespace tarry
{
namespace
{
constexpr double searched = 0.020;              // s after the onset in which the attack's largest sample lies
constexpr double ahead = 0.002, behind = 0.030; // s around it that are looked at
} // namespace

std::uint64_t fingerprint(const Hit& hit)
{
    const auto samples = [&](double seconds) { return static_cast<int>(seconds * hit.sampleRate); };
    // From the largest sample: the onset itself is found to a millisecond, counted from wherever the stream began.
    int anchor = hit.before;
    float largest = -1.0F;
    for (int i = hit.before - samples(ahead); i < std::min(hit.size(), hit.before + samples(searched)); ++i)
        if (const float x = std::abs(hit.spot(0)[static_cast<std::size_t>(std::max(0, i))]); x > largest)
        {
            largest = x;
            anchor = i;
        }
    std::uint64_t hash = 14695981039346656037ULL; // FNV-1a (Fowler, Noll, Vo), from memory
    const auto add = [&](std::span<const float> x)
    {
        for (int i = std::max(0, anchor - samples(ahead)); i < std::min(hit.size(), anchor + samples(behind)); ++i)
            hash = (hash ^ std::bit_cast<std::uint32_t>(x[static_cast<std::size_t>(i)])) * 1099511628211ULL;
    };
    for (int c = 0; c < hit.spotChannels(); ++c) add(hit.spot(c));
    for (int c = 0; c < hit.roomChannels(); ++c) add(hit.room(c));
    return hash;
}
} // namespace tarry
