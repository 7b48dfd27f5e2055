#pragma once

namespace CLI
{
class App;
}

namespace tarry::command
{
/// Adds `tarry hall` to `app`. When the user calls it, it runs within app.parse() and leaves 0, 2 (bad usage) or
/// 3 (could not write) in `exitStatus`, which has to outlive the parsing; what went wrong is one line on standard
/// error.
CLI::App* addHallCommand(CLI::App& app, int& exitStatus);
} // namespace tarry::command
