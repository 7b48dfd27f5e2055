#pragma once
#include "Core/Evidence/Evidence.h"

#include <vector>

namespace tarry
{
/// Indices of the hits that the room answers. The others say nothing, however much louder they are in the spot: a click
/// in the headphones, a stand that was touched. What counts as an answer is held against the clearest of them, so that
/// a dense roll, whose every answer is slight, is heard as well.
[[nodiscard]] std::vector<std::size_t> heardHits(const std::vector<const PairEvidence*>& hits);
} // namespace tarry
