#pragma once
#include "Core/Report/Report.h"

namespace tarry
{
/// Confidence from which a lag may be applied.
inline constexpr double trusted = 0.9;

/// Verdict and reasons, from the figures that the report holds already. Sets `verdict` and `reasons`, nothing else.
/// cueSeconds: how long the cue is, for what a drift does over it; where that is not known yet, a long one: ten
/// minutes.
void judge(Report& report, double cueSeconds = 600.0);
} // namespace tarry
