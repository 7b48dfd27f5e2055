#pragma once
#include "Core/Capture/Hit.h"

#include <cstdint>

namespace tarry
{
/// Tells a hit by its samples, bit for bit, in spot and room, wherever its window began: a loop that comes round again
/// gives the same figure, another hit of the same drum another one. [worker]
[[nodiscard]] std::uint64_t fingerprint(const Hit& hit);
} // namespace tarry
