#pragma once
#include "Core/Report/Report.h"
#include "Files/SessionRecord.h"

namespace tarry
{
/// What a recall sheet keeps of a report.
[[nodiscard]] LagFigures figuresOf(const Report& report);

/// The report's best attack as it looks with `applied`, from 5 ms before the spot's attack to 20 ms after the room's,
/// each track's own peak being 1. None where the report kept no attack.
[[nodiscard]] std::optional<AttackPicture> attackPicture(const Report& report, const Alignment& applied);

/// Where to cut the first four hits that count, one after the other without overlap. seconds: how long the spot is.
[[nodiscard]] std::vector<ClipCut> clipCuts(const Report& report, double seconds);
} // namespace tarry
