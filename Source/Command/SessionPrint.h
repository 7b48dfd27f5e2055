#pragma once
#include "Command/SessionStore.h"

namespace tarry::command
{
/// Prints one row's spot where the plan's print goes, in `output`. With `reuse` a print that was made before of the
/// same samples in the same way, and is still there bit for bit, is not made again; `made` says which. Throws
/// InputError, OutputError.
struct SessionPrint
{
    PrintRecord record;
    bool made = true;
};
[[nodiscard]] SessionPrint printRow(const SessionRow& row, const PlanRow& planned, const SessionSettings& settings,
                                    const std::filesystem::path& output, const SessionStore& store, bool reuse);

/// Cuts the row's clips beside the sheet; where there is nothing to hear, row.clips is emptied. With `reuse` those that
/// were cut before from the same samples stay. Throws InputError, OutputError.
void cutClips(SessionRow& row, const std::filesystem::path& planFolder, const std::filesystem::path& output,
              const SessionStore& store, bool reuse);
} // namespace tarry::command
