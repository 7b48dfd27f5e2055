#pragma once
#include "Command/Options.h"
#include "Files/Measurement.h"

namespace tarry::command
{
/// Opens both files and listens to them from start to end, block by block; memory does not grow with their length.
/// Throws InputError.
[[nodiscard]] Measurement measure(const ListenOptions& options);
} // namespace tarry::command
