#pragma once
#include "Core/Report/Report.h"

#include <optional>

namespace tarry
{
/// What the report says to apply to one side of the spot (from 0), in whole nanoseconds: its one lag, or with
/// `eachSide` the side's own where that is as sure as a lag has to be to be applied (`trusted`); of the room channels
/// that hear the side so surely, the one it reaches first. None where no lag was found.
[[nodiscard]] std::optional<Alignment> alignmentOfSide(const Report& report, int side, bool eachSide);

/// Lags are kept in whole nanoseconds everywhere, so that plugin, command and report mean the same number.
[[nodiscard]] double wholeNanoseconds(double seconds);
} // namespace tarry
