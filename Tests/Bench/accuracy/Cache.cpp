#include "Cache.h"
#include "Fingerprints.h"
#include "scenes/Recordings.h"

#include <nlohmann/json.hpp>

#include <fstream>

namespace tarry::bench
{
namespace
{
using nlohmann::json;

json describe(const Trial& trial)
{
    json truth{{"family", trial.family},      {"earliest", trial.earliest},
               {"tier", trial.tier},          {"name", trial.name},
               {"seed", trial.seed},          {"look_ahead", trial.settings.lookAhead},
               {"clap", trial.settings.clap}, {"first_channel", trial.firstChannel},
               {"hit_times", trial.hitTimes}};
    if (!trial.sideLags.empty()) truth["side_lags"] = trial.sideLags;
    if (trial.louderLag) truth["louder_lag"] = *trial.louderLag;
    if (trial.louderDb) truth["louder_db"] = *trial.louderDb;
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
    const auto optional = [&truth](const char* name)
    { return truth.contains(name) ? std::optional(truth.at(name).get<double>()) : std::nullopt; };
    trial.family = truth.at("family");
    trial.earliest = truth.at("earliest");
    trial.tier = truth.at("tier");
    trial.name = truth.at("name");
    trial.seed = truth.at("seed");
    trial.settings.lookAhead = truth.at("look_ahead");
    trial.settings.clap = truth.at("clap");
    trial.hitTimes = truth.at("hit_times").get<std::vector<double>>();
    trial.firstChannel = truth.at("first_channel");
    trial.driftPpm = optional("drift_ppm");
    trial.lag = optional("lag");
    trial.louderLag = optional("louder_lag");
    trial.louderDb = optional("louder_db");
    if (truth.contains("side_lags")) trial.sideLags = truth.at("side_lags").get<std::vector<double>>();
    if (truth.contains("inverted"))
        trial.polarity = truth.at("inverted").get<bool>() ? Polarity::inverted : Polarity::normal;
    trial.spot = readTracks(base.string() + "-spot.flac", trial.settings.sampleRate);
    trial.room = readTracks(base.string() + "-room.flac", trial.settings.sampleRate);
    return trial;
}

std::filesystem::path folderOf(const std::filesystem::path& root, const std::string& family)
{
    for (const auto& [name, print] : fingerprints)
        if (name == family) return root / (family + "-" + std::string(print));
    throw std::logic_error("no fingerprint of family " + family);
}

/// Written under another name first: where a file is, it is whole.
void writeJson(const std::filesystem::path& file, const json& what)
{
    const std::filesystem::path unfinished = file.string() + ".part";
    std::ofstream(unfinished) << what;
    rename(unfinished, file);
}
} // namespace

Trial Cache::get(const std::string& family, const std::string& key, const std::function<Trial()>& make) const
{
    if (root.empty()) return make();
    const auto folder = folderOf(root, family);
    create_directories(folder);
    const auto base = folder / key;
    const std::filesystem::path truth = base.string() + ".json"; // written last
    if (!exists(truth))
    {
        const auto trial = make();
        writeTracks(base.string() + "-spot.flac", trial.spot, trial.settings.sampleRate);
        writeTracks(base.string() + "-room.flac", trial.room, trial.settings.sampleRate);
        writeJson(truth, describe(trial));
    }
    return read(base); // also the first time: 24 bits are 24 bits
}

RivalAnswers Cache::rivals(const std::string& key, const Trial& trial) const
{
    if (root.empty()) return measureRivals(trial);
    const auto file = folderOf(root, trial.family) / (key + "-" + std::string(rivalsFingerprint) + ".json");
    RivalAnswers answers;
    if (!exists(file))
    {
        answers = measureRivals(trial);
        auto kept = json::array();
        for (const auto& [lag, polarity] : answers)
        {
            json one = json::object();
            if (lag) one["lag"] = *lag;
            if (polarity) one["inverted"] = *polarity == Polarity::inverted;
            kept.push_back(one);
        }
        writeJson(file, kept);
        return answers;
    }
    std::ifstream stream(file);
    const auto kept = json::parse(stream);
    for (std::size_t m = 0; m < answers.size(); ++m)
    {
        const auto& one = kept.at(m);
        if (one.contains("lag")) answers[m].lag = one.at("lag").get<double>();
        if (one.contains("inverted"))
            answers[m].polarity = one.at("inverted").get<bool>() ? Polarity::inverted : Polarity::normal;
    }
    return answers;
}
} // namespace tarry::bench
