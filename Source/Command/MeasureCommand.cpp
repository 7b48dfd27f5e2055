#include "Command/MeasureCommand.h"

#include "Command/Measure.h"
#include "Command/Summary.h"
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

bool samePlace(const std::filesystem::path& one, const std::filesystem::path& other)
{
    return std::filesystem::weakly_canonical(one) == std::filesystem::weakly_canonical(other);
}
} // namespace

void checkReports(const MeasureOptions& options, const std::filesystem::path& output)
{
    std::vector<std::filesystem::path> taken;
    if (!output.empty()) taken.push_back(output);
    for (const auto& file : reportFiles(options))
    {
        refuseToOverwrite(file, {options.spot, options.room});
        for (const auto& other : taken)
            if (samePlace(file, other))
                throw InputError(file, "is asked for twice: give each output a name of its own");
        taken.push_back(file);
    }
    if (!options.picture.empty()) const SafeFile canBeThere(options.picture);
}

void show(const Measurement& measurement, const MeasureOptions& options)
{
    if (!options.picture.empty()) writeTextFile(options.picture, toSvg(measurement));
    if (options.json == "-")
    {
        std::cout << toJson(measurement);
        return;
    }
    if (!options.json.empty()) writeTextFile(options.json, toJson(measurement));
    std::cout << summaryOf(measurement);
}

CLI::App* addMeasureCommand(CLI::App& app)
{
    auto* command = app.add_subcommand("measure", "Measure lag and polarity between a spot and a room");
    const auto options = std::make_shared<MeasureOptions>();
    command->add_option("SPOT", options->spot, "Close microphone: WAV, W64, RF64, AIFF or FLAC, mono or stereo")
        ->type_name("")
        ->required();
    command->add_option("ROOM", options->room, "Main array or room microphone, up to 8 channels")
        ->type_name("")
        ->required();
    addMeasureOptions(*command, *options);
    command->footer("Prints how much later the room hears the spot's attacks, whether their polarity agrees, and "
                    "whether aligning helps.\n"
                    "Both files have to start at the same moment. Nothing is changed.\n\n"
                    "  tarry measure snare.wav room.wav\n"
                    "  tarry measure bassdrum.wav array.wav --room-channel left --json bassdrum.json\n"
                    "  tarry measure tom.wav array.wav --taped 35ft --picture tom.svg\n\n"
                    "Exit status: 0 measured, whatever the verdict; 2 bad usage or unreadable input; 3 JSON or "
                    "picture could not be written.");
    command->callback(
        [options]
        {
            checkReports(*options);
            show(measure(*options), *options);
        });
    return command;
}
} // namespace tarry::command
