#pragma once
#include "Core/Evidence/SumFigures.h"

#include <optional>
#include <vector>

namespace tarry
{
/// Times a room that is a bare copy of the spot (no reflections: outdoors, very near, or a test signal) as finely as
/// its noise allows: the maximum-likelihood delay, each bin weighted by g²/(1 - g²), g² its coherence (Knapp & Carter
/// 1976). lag: s, right to a quarter of a period of the highest frequencies. None where the room is no bare copy. Pure.
[[nodiscard]] std::optional<double> timeCopy(const std::vector<BlendHit>& hits, double rate, double lag);
} // namespace tarry
