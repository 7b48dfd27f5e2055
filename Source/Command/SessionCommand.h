#pragma once

namespace CLI
{
class App;
}

namespace tarry::command
{
/// Adds `tarry session` to `app`. It runs within app.parse(); InputError and OutputError come out of there, and another
/// exit status than 0 is left in `exitStatus`, which has to outlive the parsing.
CLI::App* addSessionCommand(CLI::App& app, int& exitStatus);
} // namespace tarry::command
