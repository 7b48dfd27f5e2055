#include "Command/ListenCommand.h"

#include "Command/Measure.h"
#include "Command/Summary.h"
#include "Files/ReportJson.h"
#include "Files/SafeFile.h"

#include <iostream>
#include <memory>

namespace tarry::command
{
void show(const Measurement& measurement, const ListenOptions& options)
{
    if (options.json == "-")
    {
        std::cout << toJson(measurement);
        return;
    }
    if (!options.json.empty()) writeTextFile(options.json, toJson(measurement));
    std::cout << summaryOf(measurement);
}

CLI::App* addListenCommand(CLI::App& app)
{
    auto* command = app.add_subcommand("listen", "Measure lag and polarity between a spot and a room");
    const auto options = std::make_shared<ListenOptions>();
    command->add_option("SPOT", options->spot, "Close microphone: WAV, W64, RF64, AIFF or FLAC, mono or stereo")
        ->type_name("")
        ->required();
    command->add_option("ROOM", options->room, "Main array or room microphone, up to 8 channels")
        ->type_name("")
        ->required();
    addListenOptions(*command, *options);
    command->footer("Prints how much later the room hears the spot's attacks, whether their polarity agrees, and "
                    "whether aligning helps.\n"
                    "Both files have to start at the same moment. Nothing is changed.\n\n"
                    "  tarry listen snare.wav room.wav\n"
                    "  tarry listen bassdrum.wav array.wav --room-channel left --json bassdrum.json\n\n"
                    "Exit status: 0 measured, whatever the verdict; 2 bad usage or unreadable input; 3 the JSON could "
                    "not be written.");
    command->callback(
        [options]
        {
            if (!options->json.empty() && options->json != "-")
                refuseToOverwrite(options->json, {options->spot, options->room});
            show(measure(*options), *options);
        });
    return command;
}
} // namespace tarry::command
