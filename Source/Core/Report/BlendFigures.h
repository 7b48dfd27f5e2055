#pragma once
#include "Core/Report/Report.h"

#include <optional>

namespace tarry
{
/// The sum's figures for what is applied now, be it measured, by hand or leaning, to one side of the spot: from the
/// kept hits of a report. Cheap enough for every frame of a drag (about 1 ms). None where the report has no lag or kept
/// no hit.
[[nodiscard]] std::optional<BlendFigures> blendAt(const Report& report, int side, const Alignment& applied);
} // namespace tarry
