#include "Cache.h"
#include "Recordings.h"

#include <nlohmann/json.hpp>

#include <fstream>

namespace tarry::bench
{
namespace
{
using nlohmann::json;

json describe(const Trial& trial)
{
    json truth{{"tier", trial.tier},          {"name", trial.name},
               {"seed", trial.seed},          {"look_ahead", trial.settings.lookAhead},
               {"clap", trial.settings.clap}, {"first_channel", trial.firstChannel},
               {"hit_times", trial.hitTimes}};
    if (trial.driftPpm) truth["drift_ppm"] = *trial.driftPpm;
    if (trial.lag) truth["lag"] = *trial.lag;
    if (trial.polarity) truth["inverted"] = *trial.polarity == Polarity::inverted;
    return truth;
}

Trial read(const std::filesystem::path& base)
{
    std::ifstream stream(base.string() + ".json");
    const auto truth = json::parse(stream);
    Trial trial;
    trial.tier = truth.at("tier");
    trial.name = truth.at("name");
    trial.seed = truth.at("seed");
    trial.settings.lookAhead = truth.at("look_ahead");
    trial.settings.clap = truth.at("clap");
    trial.hitTimes = truth.at("hit_times").get<std::vector<double>>();
    trial.firstChannel = truth.at("first_channel");
    if (truth.contains("drift_ppm")) trial.driftPpm = truth.at("drift_ppm").get<double>();
    if (truth.contains("lag")) trial.lag = truth.at("lag").get<double>();
    if (truth.contains("inverted"))
        trial.polarity = truth.at("inverted").get<bool>() ? Polarity::inverted : Polarity::normal;
    trial.spot = readTracks(base.string() + "-spot.wav", trial.settings.sampleRate);
    trial.room = readTracks(base.string() + "-room.wav", trial.settings.sampleRate);
    return trial;
}
} // namespace

Cache::Cache(const std::filesystem::path& root)
{
    if (root.empty()) return;
    folder = root / TARRY_SCENES_FINGERPRINT;
    create_directories(folder);
}

Trial Cache::get(const std::string& key, const std::function<Trial()>& make) const
{
    if (folder.empty()) return make();
    const auto base = folder / key;
    const std::filesystem::path truth = base.string() + ".json"; // written last: where it is, the rest is whole
    if (exists(truth)) return read(base);

    auto trial = make();
    writeTracks(base.string() + "-spot.wav", trial.spot, trial.settings.sampleRate);
    writeTracks(base.string() + "-room.wav", trial.room, trial.settings.sampleRate);
    const std::filesystem::path unfinished = truth.string() + ".part";
    std::ofstream(unfinished) << describe(trial);
    rename(unfinished, truth);
    return trial;
}
} // namespace tarry::bench
