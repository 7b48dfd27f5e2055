#pragma once
#include <cmath>

namespace tarry
{
/// +24 dBFS, linear. No converter gives more, and a mix in floating point has long clipped: beyond it is a fault, such
/// as an uninitialised buffer, and would be the loudest hit for as long as the loudest is remembered.
inline constexpr float loudestSample = 15.848932F; // 10^(24/20)

/// The sample, or silence where it is not finite or beyond loudestSample. [audio]
[[nodiscard]] inline float sound(float x) noexcept
{
    return std::abs(x) <= loudestSample ? x : 0.0F; // false for what is not a number
}
} // namespace tarry
