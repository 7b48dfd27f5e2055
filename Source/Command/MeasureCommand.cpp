#include "Command/MeasureCommand.h"

#include "Command/Progress.h"
#include "Command/Summary.h"
#include "Files/MeasureFiles.h"
#include "Files/Picture.h"
#include "Files/ReportJson.h"
#include "Files/SafeFile.h"

#include <iostream>
#include <memory>

namespace tarry::command
{
namespace
{
/// Where reports go to files, by the options that name them.
std::vector<std::filesystem::path> reportFiles(const MeasureOptions& options)
{
    std::vector<std::filesystem::path> files;
    if (!options.json.empty() && options.json != "-") files.emplace_back(options.json);
    if (!options.picture.empty()) files.push_back(options.picture);
    return files;
}

bool endsAsSound(const std::filesystem::path& file)
{
    for (const char* ending : {".wav", ".w64", ".rf64", ".aif", ".aiff", ".flac"})
        if (file.extension() == ending) return true;
    return false;
}

bool samePlace(const std::filesystem::path& one, const std::filesystem::path& other)
{
    return std::filesystem::weakly_canonical(one) == std::filesystem::weakly_canonical(other);
}
} // namespace

Measurement measure(const MeasureOptions& options, const std::filesystem::path& spot)
{
    MeasureJob job;
    job.spot = spot;
    job.room = options.room;
    job.settings.reach = options.reachMs / 1e3;
    job.settings.lookAhead = options.lookAheadMs / 1e3;
    job.settings.clap = options.clap;
    job.settings.temperature = options.temperature;
    job.roomChannel = options.roomChannel;
    job.startTogether = options.startTogether;
    job.eachSide = options.eachSide;
    job.taped = options.taped;
    job.names = options.names;
    Progress progress("Measuring");
    return measureFiles(job, [&progress](double seconds, double ofSeconds) { progress.at(seconds, ofSeconds); });
}

void checkReports(const MeasureOptions& options, const std::vector<std::filesystem::path>& inputs,
                  const std::filesystem::path& output)
{
    std::vector<std::filesystem::path> taken;
    if (!output.empty()) taken.push_back(output);
    for (const auto& file : reportFiles(options))
    {
        refuseToOverwrite(file, inputs);
        if (endsAsSound(file) && std::filesystem::exists(file))
            throw InputError(file, "is a sound file, and a report would take its place: give the report another name");
        for (const auto& other : taken)
            if (samePlace(file, other))
                throw InputError(file, "is asked for twice: give each output a name of its own");
        taken.push_back(file);
    }
    if (!options.picture.empty()) const SafeFile canBeThere(options.picture);
}

void writeReport(const std::string& json, const MeasureOptions& options)
{
    if (options.json == "-")
        std::cout << json;
    else if (!options.json.empty())
        writeTextFile(options.json, json);
}

void writeReports(const std::vector<Measurement>& measurements, const MeasureOptions& options)
{
    if (!options.picture.empty() && !measurements.empty()) writeTextFile(options.picture, toSvg(measurements.front()));
    if (options.json.empty()) return;
    writeReport(options.spots.size() > 1 ? toJson(measurements) : toJson(measurements.front()), options);
}

namespace
{
/// Spots and room from the names on the command line: SPOT ROOM, or any number of spots where --room names the room.
void sortOut(MeasureOptions& options, std::vector<std::filesystem::path> files)
{
    if (files.empty()) throw InputError("measure: give a SPOT and a ROOM (tarry measure --help says more)");
    if (options.room.empty())
    {
        if (files.size() == 1)
            throw InputError(files.front(), "has no ROOM beside it: name one after it, or with --room");
        if (files.size() > 2)
            throw InputError("measure: more than two files: give SPOT ROOM, or name the room of several spots with "
                             "--room ROOM");
        options.room = files.back();
        files.pop_back();
    }
    options.spots = std::move(files);
    if (options.spots.size() > 1 && !options.picture.empty())
        throw InputError(options.picture, "is one picture, and there are several spots: measure one of them for it");
}

/// Each spot against the one room. One that cannot be read stops no other.
void measureAll(const MeasureOptions& options, int& exitStatus)
{
    auto inputs = options.spots;
    inputs.push_back(options.room);
    checkReports(options, inputs);
    std::vector<Measurement> measured;
    for (const auto& spot : options.spots) try
        {
            measured.push_back(measure(options, spot));
        }
        catch (const InputError& problem)
        {
            if (options.spots.size() == 1) throw;
            std::cerr << "tarry: " << problem.what() << "\n";
            exitStatus = 2;
        }
    if (options.json != "-") // which stands alone
        for (bool first = true; const auto& measurement : measured)
        {
            std::cout << (first ? "" : "\n") << summaryOf(measurement);
            first = false;
        }
    writeReports(measured, options);
}
} // namespace

CLI::App* addMeasureCommand(CLI::App& app, int& exitStatus)
{
    auto* command = app.add_subcommand("measure", "Measure lag and polarity between a spot and a room");
    const auto options = std::make_shared<MeasureOptions>();
    const auto files = std::make_shared<std::vector<std::filesystem::path>>();
    command
        ->add_option("SPOT", *files,
                     "Close microphone (WAV, W64, RF64, AIFF or FLAC, mono or stereo), then ROOM, the main array or "
                     "room microphone (up to 8 channels)")
        ->type_name("ROOM")
        ->expected(0, -1);
    command->add_option("--room", options->room, "The room, where several spots are measured against it in one go")
        ->type_name("ROOM");
    addMeasureOptions(*command, *options);
    command->footer(
        "Prints how much later the room hears the spot's attacks, whether their polarity agrees, and whether aligning "
        "helps.\n"
        "Broadcast waves are laid beside each other by their time stamps; other files are taken to start at the same "
        "moment. Nothing is changed.\n\n"
        "  tarry measure snare.wav room.wav\n"
        "  tarry measure bassdrum.wav array.wav --room-channel left --json bassdrum.json\n"
        "  tarry measure tom.wav array.wav --taped 35ft --picture tom.svg\n"
        "  tarry measure snare.wav tom.wav bassdrum.wav --room array.wav\n\n"
        "Exit status: 0 measured, whatever the verdict; 2 bad usage or unreadable input; 3 JSON or picture could not "
        "be written.");
    command->callback(
        [options, files, &exitStatus]
        {
            sortOut(*options, *files);
            measureAll(*options, exitStatus);
        });
    return command;
}
} // namespace tarry::command
