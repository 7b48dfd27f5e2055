#pragma once
#include "Files/SessionRecord.h"

#include <string>

namespace tarry
{
/// The heads of the rows' columns, as cells of a table's head.
[[nodiscard]] std::string sheetRowHeads();

/// One row of a recall sheet as a <tbody>: its figures in one line, and below it everything else that is known.
/// `pool`: what its takes say together; null where it has none.
[[nodiscard]] std::string sheetRowHtml(const SessionRow& row, const SetupRecord* pool);

/// Its anchor on the page.
[[nodiscard]] std::string rowAnchor(const SessionRow& row);
} // namespace tarry
