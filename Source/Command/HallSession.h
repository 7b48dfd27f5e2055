#pragma once
#include "Files/SafeFile.h"
#include "Hall/SessionScore.h"

#include <filesystem>

namespace tarry::command
{
/// Writes a made-up score: plan.csv, truth.json and a folder of sound files for each cue. Throws OutputError.
void makeSession(const hall::ScoreSpec& spec, const std::filesystem::path& folder, Existing existing);
} // namespace tarry::command
