#include "Command/HallCommand.h"

#include "Command/HallSession.h"
#include "Command/Options.h"
#include "Core/Ground/Text.h"
#include "Files/AudioWriter.h"
#include "Files/Errors.h"
#include "Files/SafeFile.h"
#include "Hall/Scene.h"

#include <cmath>
#include <iostream>
#include <memory>
#include <nlohmann/json.hpp>
#include <sndfile.h>
#include <stdexcept>

namespace tarry::command
{
namespace
{
namespace files = std::filesystem;
using Json = nlohmann::ordered_json;

struct HallOptions
{
    files::path folder;
    bool overwrite = false;
    hall::SceneSpec spec;
    bool session = false;
    double seconds = 60.0;
};

std::string listOfScenes()
{
    std::string list;
    for (const std::string& name : hall::sceneNames())
        list += "  " + name + std::string(16 - name.size(), ' ') + std::string(hall::sceneSummary(name)) + "\n";
    return list;
}

double rounded(double value, double step)
{
    return std::round(value / step) * step;
}

/// s to ms, to the microsecond.
double milliseconds(double seconds)
{
    return std::round(seconds * 1e6) / 1e3;
}

Json millisecondsOf(const std::vector<double>& seconds)
{
    Json list = Json::array();
    for (const double value : seconds) list.push_back(milliseconds(value));
    return list;
}

Json timesOf(const std::vector<double>& seconds)
{
    Json list = Json::array();
    for (const double value : seconds) list.push_back(std::round(value * 1e6) / 1e6);
    return list;
}

Json truthJson(const hall::SceneSpec& spec, const hall::Truth& truth)
{
    Json json;
    json["note"] = "Invented: no such hall, cue or player. Lantern Hall, cue 'Salt Road', made by tarry hall.";
    json["scene"] = spec.name;
    json["seed"] = spec.seed;
    json["sample_rate"] = static_cast<int>(spec.sampleRate);
    json["instrument"] = truth.instrument;
    json["has_one_lag"] = truth.hasOneLag;
    if (truth.hasOneLag)
    {
        json["lag_ms"] = milliseconds(truth.lag);
        json["polarity"] = nameOf(truth.polarity);
        json["room_channel_lags_ms"] = millisecondsOf(truth.channelLags);
        json["each_hit_lag_ms"] = millisecondsOf(truth.hitLags);
    }
    else
    {
        json["lag_ms"] = nullptr;
        json["polarity"] = nullptr;
    }
    json["hit_times_s"] = timesOf(truth.hitTimes);
    json["neighbour_times_s"] = timesOf(truth.neighbourTimes);
    json["distance_m"] = rounded(truth.distance, 0.001);
    json["spot_distance_m"] = rounded(truth.spotDistance, 0.001);
    json["temperature_c"] = rounded(truth.temperature, 0.01);
    json["humidity_percent"] = rounded(truth.humidity, 0.1);
    json["speed_of_sound_m_s"] = rounded(truth.speedOfSound, 0.001);
    json["t60_s"] = rounded(truth.t60, 0.001);
    json["hall_m"] = {{"length", rounded(truth.length, 0.01)},
                      {"width", rounded(truth.width, 0.01)},
                      {"height", rounded(truth.height, 0.01)}};
    return json;
}

void writeTrack(const files::path& file, const std::vector<std::vector<float>>& track, double sampleRate,
                Existing existing)
{
    AudioInfo info;
    info.channels = static_cast<int>(track.size());
    info.sampleRate = static_cast<int>(sampleRate);
    info.frames = static_cast<std::int64_t>(track.front().size());
    info.format = SF_FORMAT_WAV | SF_FORMAT_PCM_24;
    AudioWriter writer(file, info, info.frames, existing);
    std::vector<const float*> channels;
    channels.reserve(track.size());
    for (const auto& channel : track) channels.push_back(channel.data());
    writer.write(channels.data(), static_cast<int>(info.frames));
    writer.finish();
}

void makeHall(const HallOptions& options)
{
    if (options.spec.name == "list")
    {
        std::cout << listOfScenes();
        return;
    }
    if (options.folder.empty()) throw InputError("hall: say where the files are to go: -o FOLDER");
    if (options.session)
        return makeSession({options.spec.seed, options.spec.sampleRate, options.seconds}, options.folder,
                           options.overwrite ? Existing::replace : Existing::refuse);
    const auto spot = options.folder / "spot.wav", room = options.folder / "room.wav";
    const auto truth = options.folder / "truth.json";
    for (const auto& file : {spot, room, truth})
        if (!options.overwrite && files::exists(file))
            throw OutputError(file, "is there already: choose another folder, or --overwrite");
    hall::Scene scene;
    try
    {
        scene = hall::makeScene(options.spec);
    }
    catch (const std::invalid_argument& problem)
    {
        throw InputError(std::string("hall: ") + problem.what());
    }

    std::error_code problem;
    const bool isNew = files::create_directories(options.folder, problem);
    if (!files::is_directory(options.folder))
        throw OutputError(options.folder, "cannot be made a folder; choose another with -o");
    const Existing existing = options.overwrite ? Existing::replace : Existing::refuse;
    std::vector<files::path> written; // all three, or none
    try
    {
        writeTrack(spot, scene.spot, scene.sampleRate, existing);
        written.push_back(spot);
        writeTrack(room, scene.room, scene.sampleRate, existing);
        written.push_back(room);
        writeTextFile(truth, truthJson(options.spec, scene.truth).dump(2) + "\n", existing);
    }
    catch (const OutputError&)
    {
        if (isNew) written = {spot, room, truth}; // all that is in it is ours
        for (const auto& file : written)
            if (isNew || !options.overwrite) files::remove(file, problem);
        if (isNew) files::remove(options.folder, problem);
        throw;
    }

    std::cout << "Lantern Hall, cue 'Salt Road' (invented), scene " << options.spec.name << ", seed "
              << options.spec.seed << ": " << scene.truth.instrument << "\n"
              << "  " << spot.string() << "\n  " << room.string() << "\n  " << truth.string() << "\n";
}
} // namespace

CLI::App* addHallCommand(CLI::App& app)
{
    CLI::App* command = app.add_subcommand("hall", "Make up a hall with drums in it, lag and polarity known");
    const auto options = std::make_shared<HallOptions>();
    hall::SceneSpec& spec = options->spec;
    command->footer("Writes spot.wav, room.wav and truth.json. Scenes:\n" + listOfScenes());
    command->add_option("-o,--output", options->folder, "Folder for the three files; made where it is missing")
        ->type_name("FOLDER");
    command->add_option("--seed", spec.seed, "The same seed makes the same hall")
        ->type_name("N")
        ->capture_default_str();
    command->add_option("--scene", spec.name, "What is played, as below; 'list' lists them")
        ->type_name("NAME")
        ->capture_default_str();
    auto* session = command->add_flag("--session", options->session,
                                      "Make a plan of twelve cues with four spots each, for tarry session");
    command->add_option("--seconds", options->seconds, "Length of a session's cues, 20 to 600 s")
        ->type_name("S")
        ->check(between(20.0, 600.0))
        ->capture_default_str()
        ->needs(session);
    command->add_option("--rate", spec.sampleRate, "Sample rate, 8000 to 192000 Hz, whole")
        ->type_name("HZ")
        ->check(between(8000.0, 192000.0) & CLI::TypeValidator<int>())
        ->capture_default_str();
    command->add_option("--hits", spec.hits, "The player's own hits, 1 to 200 (one-hit and clap: always one)")
        ->type_name("N")
        ->check(between(1.0, 200.0))
        ->capture_default_str();
    command->add_option("--neighbour-db", spec.neighbourDb, "Neighbour's hits in the room against the player's own")
        ->type_name("DB")
        ->check(between(-60.0, 60.0))
        ->capture_default_str();
    command->add_option("--leak-db", spec.leakDb, "Gain of the spot that leaks into the room's track")
        ->type_name("DB")
        ->check(between(-120.0, 0.0))
        ->capture_default_str();
    command->add_option("--room-channels", spec.roomChannels, "Room microphones in a row, 1 to 8")
        ->type_name("N")
        ->check(between(1.0, 8.0))
        ->capture_default_str();
    command->add_option("--distance", spec.distance, "From drum to room microphone, 2 to 25 m; 0: drawn, 5 to 13 m")
        ->type_name("M")
        ->check(between(0.0, 25.0))
        ->capture_default_str();
    command->add_flag("--overwrite", options->overwrite, "Replace the files of an earlier run");
    command->callback([options] { makeHall(*options); });
    return command;
}
} // namespace tarry::command
