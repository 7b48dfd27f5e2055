#pragma once
#include "Command/Options.h"
#include "Files/Measurement.h"

namespace tarry::command
{
/// Opens both files and measures from start to end, block by block; memory does not grow with their length.
/// Throws InputError.
[[nodiscard]] Measurement measure(const MeasureOptions& options);
} // namespace tarry::command
