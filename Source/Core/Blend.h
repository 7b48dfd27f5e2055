#pragma once
#include "Core/Report.h"
#include "Core/Types.h"

#include <span>
#include <vector>

namespace tarry
{
/// One hit to judge the blend by: spot and room as recorded, the attack at `onset`.
struct BlendHit
{
    std::span<const float> spot, room;
    int onset = 0;
    double weight = 1.0;
};

/// How the sum of spot and room changes when the spot waits by `alignment.lag` (to the nearest sample: figures in dB do
/// not need more). rate: Hz.
[[nodiscard]] BlendFigures judgeBlend(const std::vector<BlendHit>& hits, double rate, const Alignment& alignment);

/// Share (0 to 1) of the spot's attack, its first 60 ms, that lies below 250 Hz: is this a low drum?
[[nodiscard]] double lowShare(const std::vector<BlendHit>& hits, double rate);

/// dB by which the low band (below 250 Hz) of the attack stands above the 60 ms before it, in the spot or in the room,
/// whichever is less clear. Hum or a drum that still rings makes a low sum that says nothing.
[[nodiscard]] double lowClarityDb(const std::vector<BlendHit>& hits, double rate, double lag);
} // namespace tarry
