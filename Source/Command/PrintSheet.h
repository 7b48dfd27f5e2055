#pragma once
#include "Files/SafeFile.h"

#include <CLI/CLI.hpp>
#include <filesystem>
#include <memory>

namespace tarry::command
{
/// What to set again from a recall sheet.
struct SheetOptions
{
    std::filesystem::path sheet; ///< sheet.json; empty: none
    std::filesystem::path audio; ///< where the plan's paths start; empty: beside the sheet, above it, or here
};

/// Adds --from and --audio to `tarry print`; no SPOT goes with them.
[[nodiscard]] std::shared_ptr<SheetOptions> addSheetOptions(CLI::App& command, CLI::Option& spot);

/// Prints every spot that the sheet aligns, by the sheet's own lags: nothing is measured. Each print goes where the
/// sheet's own went, below `output`. A spot that cannot be printed is told and stops no other; then an InputError that
/// counts them comes at the end. Throws InputError, OutputError.
void printSheet(const SheetOptions& options, const std::filesystem::path& output, Existing existing);
} // namespace tarry::command
