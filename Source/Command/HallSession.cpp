#include "Command/HallSession.h"

#include "Command/SessionProgress.h"
#include "Command/Workers.h"
#include "Core/Ground/Text.h"
#include "Files/AudioWriter.h"

#include <algorithm>
#include <cmath>
#include <iostream>
#include <nlohmann/json.hpp>
#include <sndfile.h>
#include <thread>

namespace tarry::command
{
namespace
{
namespace fs = std::filesystem;
using Json = nlohmann::ordered_json;
constexpr double clockAtStart = 36000.0; // s since midnight, of time-stamped files

struct Names
{
    std::string spot, room; ///< relative to the plan
};

Names namesOf(const hall::ScoreTake& take)
{
    const std::string folder = std::string("cue-") + (take.cue < 10 ? "0" : "") + std::to_string(take.cue) + "/";
    std::string name = take.instrument;
    std::replace(name.begin(), name.end(), ' ', '-');
    return {folder + name + ".wav", folder + name + "-room.wav"};
}

/// 24 bit, as recorders write. start: s since midnight for the time stamp; negative: none.
void writeTrack(const fs::path& file, const std::vector<float>& track, double sampleRate, double start)
{
    AudioInfo info;
    info.channels = 1;
    info.sampleRate = static_cast<int>(sampleRate);
    info.frames = static_cast<std::int64_t>(track.size());
    info.format = SF_FORMAT_WAV | SF_FORMAT_PCM_24;
    if (start >= 0.0) setTimeReference(info, static_cast<std::uint64_t>(std::llround(start * sampleRate)));
    AudioWriter writer(file, info, info.frames);
    const float* channel = track.data();
    writer.write(&channel, static_cast<int>(info.frames));
    writer.finish();
}

Json truthOf(const hall::ScoreTake& take, const hall::TakeTracks& tracks, int line)
{
    const Names names = namesOf(take);
    Json json;
    json["line"] = line;
    json["cue"] = std::to_string(take.cue);
    json["setup"] = take.setup;
    json["instrument"] = take.instrument;
    json["spot"] = names.spot;
    json["room"] = names.room;
    json["has_one_lag"] = !take.section;
    json["lag_ms"] = take.section ? Json(nullptr) : Json(std::round(tracks.lag * 1e6) / 1e3);
    json["polarity"] = take.section ? Json(nullptr) : Json(nameOf(tracks.polarity));
    json["hits"] = tracks.hits;
    json["soft"] = take.soft;
    json["moved"] = take.moved;
    json["broken"] = take.broken;
    json["clicks"] = take.clicks;
    json["drift_ppm"] = take.driftPpm;
    return json;
}

Json makeTake(const hall::ScoreSpec& spec, const hall::ScoreTake& take, const fs::path& folder, int line)
{
    const auto tracks = hall::recordTake(spec, take);
    const Names names = namesOf(take);
    const bool stamped = take.roomStartsAfter > 0.0;
    writeTrack(folder / names.spot, tracks.spot, spec.sampleRate, stamped ? clockAtStart : -1.0);
    writeTrack(folder / names.room, tracks.room, spec.sampleRate, stamped ? clockAtStart + take.roomStartsAfter : -1.0);
    if (take.broken) // the recorder lost its power
        fs::resize_file(folder / names.spot, fs::file_size(folder / names.spot) * 6 / 10);
    return truthOf(take, tracks, line);
}
} // namespace

void makeSession(const hall::ScoreSpec& spec, const fs::path& folder, Existing existing)
{
    if (existing == Existing::refuse && fs::exists(folder / "plan.csv"))
        throw OutputError(folder / "plan.csv", "is there already: choose another folder, or --overwrite");
    const auto takes = hall::scoreOf(spec);
    std::string plan = "cue,take,setup,instrument,spot,room,note\r\n";
    for (const auto& take : takes)
    {
        const Names names = namesOf(take);
        std::error_code problem;
        fs::create_directories((folder / names.spot).parent_path(), problem);
        if (!fs::is_directory((folder / names.spot).parent_path()))
            throw OutputError(folder, "cannot be made a folder; choose another with -o");
        plan += std::to_string(take.cue) + ",1," + take.setup + "," + take.instrument + "," + names.spot + "," +
                names.room + "," + (take.soft ? "played softly" : "") + "\r\n";
    }

    Workers workers;
    SessionProgress bar;
    bar.expectTakes(static_cast<int>(takes.size()));
    bar.expect(static_cast<double>(takes.size()));
    std::vector<Json> truths(takes.size());
    for (std::size_t i = 0; i < takes.size(); ++i)
        workers.add(
            [&, i]
            {
                truths[i] = makeTake(spec, takes[i], folder, static_cast<int>(i) + 2);
                bar.did(1.0);
                bar.takeDone();
            });
    workers.run(static_cast<int>(std::max(1U, std::thread::hardware_concurrency())), [&bar] { bar.show(); });

    Json truth;
    truth["note"] = "Invented: no such hall, score or player. Lantern Hall, 'Salt Road', made by tarry hall --session.";
    truth["seed"] = spec.seed;
    truth["sample_rate"] = static_cast<int>(spec.sampleRate);
    truth["seconds"] = spec.seconds;
    truth["takes"] = truths;
    writeTextFile(folder / "truth.json", truth.dump(1) + "\n");
    writeTextFile(folder / "plan.csv", plan);
    std::cout << "Lantern Hall, 'Salt Road' (invented): " << takes.size() << " takes of " << fixed(spec.seconds, 0)
              << " s\n  " << (folder / "plan.csv").string() << "\n  " << (folder / "truth.json").string() << "\n";
}
} // namespace tarry::command
