#include "Command/HallCommand.h"
#include "Command/MeasureCommand.h"
#include "Command/PrintCommand.h"
#include "Core/Ground/Version.h"
#include "Files/Errors.h"
#include "Files/SafeFile.h"

#include <CLI/CLI.hpp>
#include <algorithm>
#include <iostream>

namespace
{
constexpr int badInput = 2;
constexpr int cannotWrite = 3;

int complain(std::string line, int status)
{
    std::replace(line.begin(), line.end(), '\n', ' ');
    std::cerr << "tarry: " << line << "\n";
    return status;
}

int run(int argc, char** argv)
{
    CLI::App app("Tarry: the spot tarries until the room arrives.\n"
                 "Finds how much later a room microphone hears a drum than its spot, and prints the spot aligned.");
    app.name("tarry");
    app.set_version_flag("--version", "tarry " + tarry::versionAndBuild());
    app.require_subcommand(0, 1); // none: our own line below, which names them
    app.footer("Try it: tarry hall -o demo-hall, then tarry measure demo-hall/spot.wav demo-hall/room.wav\n"
               "Each command has its own help: tarry measure --help");
    int hallStatus = 0;
    tarry::command::addMeasureCommand(app);
    tarry::command::addPrintCommand(app);
    tarry::command::addHallCommand(app, hallStatus);
    try
    {
        app.parse(argc, argv);
    }
    catch (const CLI::ParseError& problem)
    {
        if (problem.get_exit_code() == 0) return app.exit(problem); // help, version
        return complain(std::string(problem.what()) + " (tarry --help says more)", badInput);
    }
    catch (const tarry::InputError& problem)
    {
        return complain(problem.what(), badInput);
    }
    catch (const tarry::OutputError& problem)
    {
        return complain(problem.what(), cannotWrite);
    }
    if (app.get_subcommands().empty())
        return complain("give a command: measure, print or hall (tarry --help says more)", badInput);
    if (!std::cout.flush()) return complain("standard output could not be written", cannotWrite);
    return hallStatus;
}
} // namespace

int main(int argc, char** argv)
{
    tarry::cleanUpOnSignals();
    try
    {
        return run(argc, argv);
    }
    catch (const std::exception& problem)
    {
        return complain(std::string("cannot go on: ") + problem.what(), badInput);
    }
}
