#pragma once
#include "Command/Options.h"
#include "Files/Measurement.h"

namespace tarry::command
{
/// Adds `tarry measure` to `app`. It runs within app.parse(); InputError and OutputError come out of there.
CLI::App* addMeasureCommand(CLI::App& app);

/// Fails early, before a long file has been measured, where JSON or picture would write over an input, over each
/// other or over `output`, or cannot be files where they are asked for. Throws InputError, OutputError.
void checkReports(const MeasureOptions& options, const std::filesystem::path& output = {});

/// Shows a measurement as the options ask: text on standard output, JSON in a file or alone on standard output, a
/// picture. Throws OutputError.
void show(const Measurement& measurement, const MeasureOptions& options);
} // namespace tarry::command
