#pragma once
#include "Command/Options.h"
#include "Files/Measurement.h"

namespace tarry::command
{
/// Adds `tarry listen` to `app`. It runs within app.parse(); InputError and OutputError come out of there.
CLI::App* addListenCommand(CLI::App& app);

/// Shows a measurement as the options ask: text on standard output, JSON in a file or alone on standard output.
/// Throws OutputError.
void show(const Measurement& measurement, const ListenOptions& options);
} // namespace tarry::command
