#pragma once
#include "Core/Decision/StepStack.h"
#include "Core/Evidence/Evidence.h"

#include <vector>

namespace tarry
{
/// The lag by which the room's attack first rises after the spot's: both are watched as they come out of equally much
/// noise, low on their way to the top, where the first arrival lies; higher up, parts of the drum and the floor's
/// reflection that the spot never heard pull the room's edge late. stepLag: s, the lag by energy steps, right to about
/// half a millisecond; returned as it is where no edge can be seen.
[[nodiscard]] double timeByEdges(const std::vector<const PairEvidence*>& hits, const HitWeights& weights,
                                 const LagGrid& grid, double stepLag);
} // namespace tarry
