#pragma once
#include "Command/Options.h"
#include "Files/Measurement.h"

namespace tarry::command
{
/// Adds `tarry measure` to `app`. It runs within app.parse(); InputError and OutputError come out of there. Where it
/// measures several spots and some cannot be read, it says so line by line, goes on, and leaves 2 in `exitStatus`.
CLI::App* addMeasureCommand(CLI::App& app, int& exitStatus);

/// One of the spots, as the options ask, with a bar on the terminal where it takes long. Throws InputError.
[[nodiscard]] Measurement measure(const MeasureOptions& options, const std::filesystem::path& spot);

/// Fails early, before a long file has been measured, where JSON or picture would write over an input, over each
/// other or over `output`, or cannot be files where they are asked for. Throws InputError, OutputError.
void checkReports(const MeasureOptions& options, const std::vector<std::filesystem::path>& inputs,
                  const std::filesystem::path& output = {});

/// Writes what the options ask for beside the summary: JSON in a file or on standard output (one report, or a list
/// where several spots were asked for), a picture of the first. Throws OutputError.
void writeReports(const std::vector<Measurement>& measurements, const MeasureOptions& options);

/// The same of JSON that is ready.
void writeReport(const std::string& json, const MeasureOptions& options);
} // namespace tarry::command
