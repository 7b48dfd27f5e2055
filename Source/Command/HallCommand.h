#pragma once

namespace CLI
{
class App;
}

namespace tarry::command
{
/// Adds `tarry hall` to `app`. It runs within app.parse(); InputError and OutputError come out of there.
CLI::App* addHallCommand(CLI::App& app);
} // namespace tarry::command
