#pragma once

#include <CLI/CLI.hpp>

namespace tarry::command
{
/// Adds `tarry print` to `app`. It runs within app.parse(); InputError and OutputError come out of there.
CLI::App* addPrintCommand(CLI::App& app);
} // namespace tarry::command
