#pragma once
#include "Command/Options.h"
#include "Files/Measurement.h"

namespace tarry::command
{
/// Lays a spot beside the room, and measures from start to end, block by block; memory does not grow with their length.
/// Throws InputError.
[[nodiscard]] Measurement measure(const MeasureOptions& options, const std::filesystem::path& spot);
} // namespace tarry::command
