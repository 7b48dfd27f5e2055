#pragma once
#include "Core/Ground/Types.h"

#include <array>

namespace tarry
{
/// The alignment of each side of the spot. The sides are the same unless each follows its own.
struct Sides
{
    std::array<Alignment, maxSpotChannels> side;

    static Sides both(const Alignment& one) { return {{one, one}}; }
    bool operator==(const Sides&) const = default;
};

/// What is applied of a held lag: the lag and the lean (s) on top of it, in whole nanoseconds.
[[nodiscard]] Alignment leaned(const Alignment& held, double lean);
[[nodiscard]] Sides leaned(const Sides& held, double lean);
} // namespace tarry
