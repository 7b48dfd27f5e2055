#pragma once
#include "Files/Measurement.h"

#include <string>

namespace tarry
{
/// The recall line of what was measured: with the lag held where the verdict is to align, or where it was printed all
/// the same; else without.
[[nodiscard]] std::string recallLineOf(const Measurement& measurement);
} // namespace tarry
