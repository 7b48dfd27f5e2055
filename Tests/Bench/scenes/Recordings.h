#pragma once
#include "Example.h"

#include <filesystem>
#include <map>
#include <string>
#include <vector>

namespace tarry::bench
{
/// Reads every channel of an audio file. rate receives Hz. Throws std::runtime_error with a line that names the file.
[[nodiscard]] Tracks readTracks(const std::filesystem::path& file, double& rate);

/// Writes tracks of one length: `.flac` as 24-bit FLAC, anything else as 32-bit float WAV. Throws std::runtime_error.
void writeTracks(const std::filesystem::path& file, const Tracks& tracks, double rate);

/// A row of a CSV table, by the names in its heading.
using Row = std::map<std::string, std::string>;
/// Throws std::runtime_error where there is no such file or a row does not match the heading.
[[nodiscard]] std::vector<Row> readTable(const std::filesystem::path& file);

/// The pairs of a folder of real tracks with reference.csv (and reference-neighbours.csv where it is there): spot,
/// room, first_arrival_30db_ms (taken as the lag), first_lobe (same, opposite), grade. Family `real`; tiers: `real-a`,
/// `real-neighbours-a`, `real-b`, `real-neighbours-b`, and for bass drums, which are all grade B, `bass-drum`. Throws
/// std::runtime_error with one line that names the file and what is wrong.
[[nodiscard]] std::vector<Example> readRealExamples(const std::filesystem::path& folder);

/// The tiers that readRealExamples can give, in the order of the table.
[[nodiscard]] const std::vector<std::string>& realTiers();
} // namespace tarry::bench
