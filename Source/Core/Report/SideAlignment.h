#pragma once
#include "Core/Report/Report.h"

#include <optional>

namespace tarry
{
/// s. A smaller change of lag cannot be heard: two equal signals that lie 0.05 ms apart lose 1 dB at 3 kHz,
/// 20 log10 cos(pi f t), and less below.
constexpr double audibleChange = 50.0e-6;

/// What the report says to apply to one side of the spot (from 0), in whole nanoseconds: its one lag, or with
/// `eachSide` the side's own where that is as sure as a lag has to be to be applied (`trusted`); of the room channels
/// that hear the side so surely, the one it reaches first. None where no lag was found.
[[nodiscard]] std::optional<Alignment> alignmentOfSide(const Report& report, int side, bool eachSide);

/// Lags are kept in whole nanoseconds everywhere, so that plugin, command and report mean the same number.
[[nodiscard]] double wholeNanoseconds(double seconds);
} // namespace tarry
