#pragma once
#include "Files/SessionRecord.h"

#include <filesystem>
#include <vector>

namespace tarry::command
{
/// Writes sheet.json, sheet.csv and sheet.html into a session's folder. Throws OutputError.
void writeSheets(const SessionRecord& record, const std::filesystem::path& output);

/// Writes trial.html, the blind trial over these cues of a session (CUE, or CUE/INSTRUMENT; where none is named a spot
/// of each cue, eight at most), from its sheet.json and clips. Returns how many spots are in it. Throws InputError,
/// OutputError.
std::size_t writeTrial(const std::filesystem::path& output, const std::vector<std::string>& cues);

/// Pools results of that trial into the session's sheets. Throws InputError, OutputError.
[[nodiscard]] SessionRecord tallyInto(const std::filesystem::path& output,
                                      const std::vector<std::filesystem::path>& results);
} // namespace tarry::command
