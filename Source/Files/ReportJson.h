#pragma once
#include "Files/Measurement.h"

#include <string>

namespace tarry
{
/// The report for programs, as JSON text with a line break at its end. Times in ms with every digit of the nanosecond
/// that Tarry keeps: lag_ms / 1000 is the lag itself. What is not known is null.
[[nodiscard]] std::string toJson(const Measurement& measurement);
/// What was printed where nothing was measured: the spot and the key "printed" alone.
[[nodiscard]] std::string toJson(const AudioInfo& spot, const Printed& printed);
/// A list of such reports.
[[nodiscard]] std::string toJson(const std::vector<Measurement>& measurements);
} // namespace tarry
