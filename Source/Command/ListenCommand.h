#pragma once
#include "Command/Options.h"
#include "Files/Measurement.h"

namespace tarry::command
{
/// Adds `tarry listen` to `app`. It runs within app.parse(); InputError and OutputError come out of there.
CLI::App* addListenCommand(CLI::App& app);

/// Fails early, before a long file has been listened to, where JSON or picture would write over an input, over each
/// other or over `output`, or cannot be files where they are asked for. Throws InputError, OutputError.
void checkReports(const ListenOptions& options, const std::filesystem::path& output = {});

/// Shows a measurement as the options ask: text on standard output, JSON in a file or alone on standard output, a
/// picture. Throws OutputError.
void show(const Measurement& measurement, const ListenOptions& options);
} // namespace tarry::command
