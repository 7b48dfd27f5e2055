#include "Command/HallCommand.h"
#include "Command/MeasureCommand.h"
#include "Command/PrintCommand.h"
#include "Command/SessionCommand.h"
#include "Core/Ground/Text.h"
#include "Core/Ground/Version.h"
#include "Files/Errors.h"
#include "Files/SafeFile.h"

#include <CLI/CLI.hpp>
#include <algorithm>
#include <iostream>
#include <string>
#include <vector>

namespace
{
constexpr int badInput = 2;
constexpr int cannotWrite = 3;
constexpr int notAdvised = 4;

int complain(std::string line, int status)
{
    // A file's name can hold anything, also what would move a terminal's cursor.
    std::replace_if(
        line.begin(), line.end(), [](unsigned char c) { return c < ' ' || c == 0x7F; }, ' ');
    std::cerr << "tarry: " << line << "\n";
    return status;
}

/// By how many letters put in, left out, exchanged or swapped with their neighbour two words differ.
std::size_t lettersApart(const std::string& one, const std::string& other)
{
    std::vector<std::vector<std::size_t>> apart(one.size() + 1, std::vector<std::size_t>(other.size() + 1));
    for (std::size_t i = 0; i <= one.size(); ++i)
        for (std::size_t j = 0; j <= other.size(); ++j)
        {
            auto& least = apart[i][j];
            if (i == 0 || j == 0)
            {
                least = i + j;
                continue;
            }
            const bool same = one[i - 1] == other[j - 1];
            least = std::min({apart[i - 1][j] + 1, apart[i][j - 1] + 1, apart[i - 1][j - 1] + (same ? 0 : 1)});
            if (i > 1 && j > 1 && one[i - 1] == other[j - 2] && one[i - 2] == other[j - 1])
                least = std::min(least, apart[i - 2][j - 2] + 1);
        }
    return apart.back().back();
}

/// "measure, print or hall"
std::string commandsOf(CLI::App& app)
{
    std::string list;
    const auto commands = app.get_subcommands({});
    for (std::size_t i = 0; i < commands.size(); ++i)
        list += (i == 0 ? "" : i + 1 == commands.size() ? " or " : ", ") + commands[i]->get_name();
    return list;
}

/// What is wrong with a first word that is no command; empty where it is one, or no word.
std::string wrongCommand(CLI::App& app, const std::string& word)
{
    if (word.empty() || word.front() == '-') return {};
    std::string nearest;
    std::size_t least = 3; // letters: further off it is another word
    for (const auto* command : app.get_subcommands({}))
        if (const auto apart = lettersApart(word.substr(0, 20), command->get_name()); apart == 0 && word.size() < 20)
            return {};
        else if (apart < least)
        {
            least = apart;
            nearest = command->get_name();
        }
    return "there is no command " + tarry::quoted(word) +
           (nearest.empty() ? ": give " + commandsOf(app) : ": did you mean " + nearest + "?") +
           " (tarry --help says more)";
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
    int status = 0;
    tarry::command::addMeasureCommand(app, status);
    tarry::command::addPrintCommand(app);
    tarry::command::addSessionCommand(app, status);
    tarry::command::addHallCommand(app);
    if (argc > 1)
        if (const std::string wrong = wrongCommand(app, argv[1]); !wrong.empty()) return complain(wrong, badInput);
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
    catch (const tarry::NotAdvised& problem)
    {
        return complain(problem.what(), notAdvised);
    }
    if (app.get_subcommands().empty())
        return complain("give a command: " + commandsOf(app) + " (tarry --help says more)", badInput);
    if (!std::cout.flush()) return complain("standard output could not be written", cannotWrite);
    return status;
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
