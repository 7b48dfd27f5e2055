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

json describe(const Example& example)
{
    json truth{{"family", example.family},      {"earliest", example.earliest},
               {"tier", example.tier},          {"name", example.name},
               {"seed", example.seed},          {"look_ahead", example.settings.lookAhead},
               {"clap", example.settings.clap}, {"first_channel", example.firstChannel},
               {"hit_times", example.hitTimes}};
    if (!example.sideLags.empty()) truth["side_lags"] = example.sideLags;
    if (example.louderLag) truth["louder_lag"] = *example.louderLag;
    if (example.louderDb) truth["louder_db"] = *example.louderDb;
    if (example.driftPpm) truth["drift_ppm"] = *example.driftPpm;
    if (example.lag) truth["lag"] = *example.lag;
    if (example.polarity) truth["inverted"] = *example.polarity == Polarity::inverted;
    return truth;
}

Example read(const std::filesystem::path& base)
{
    std::ifstream stream(base.string() + ".json");
    const auto truth = json::parse(stream);
    Example example;
    const auto optional = [&truth](const char* name)
    { return truth.contains(name) ? std::optional(truth.at(name).get<double>()) : std::nullopt; };
    example.family = truth.at("family");
    example.earliest = truth.at("earliest");
    example.tier = truth.at("tier");
    example.name = truth.at("name");
    example.seed = truth.at("seed");
    example.settings.lookAhead = truth.at("look_ahead");
    example.settings.clap = truth.at("clap");
    example.hitTimes = truth.at("hit_times").get<std::vector<double>>();
    example.firstChannel = truth.at("first_channel");
    example.driftPpm = optional("drift_ppm");
    example.lag = optional("lag");
    example.louderLag = optional("louder_lag");
    example.louderDb = optional("louder_db");
    if (truth.contains("side_lags")) example.sideLags = truth.at("side_lags").get<std::vector<double>>();
    if (truth.contains("inverted"))
        example.polarity = truth.at("inverted").get<bool>() ? Polarity::inverted : Polarity::normal;
    example.spot = readTracks(base.string() + "-spot.flac", example.settings.sampleRate);
    example.room = readTracks(base.string() + "-room.flac", example.settings.sampleRate);
    return example;
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

Example Cache::get(const std::string& family, const std::string& key, const std::function<Example()>& make) const
{
    if (root.empty()) return make();
    const auto folder = folderOf(root, family);
    create_directories(folder);
    const auto base = folder / key;
    const std::filesystem::path truth = base.string() + ".json"; // written last
    if (!exists(truth))
    {
        const auto example = make();
        writeTracks(base.string() + "-spot.flac", example.spot, example.settings.sampleRate);
        writeTracks(base.string() + "-room.flac", example.room, example.settings.sampleRate);
        writeJson(truth, describe(example));
    }
    return read(base); // also the first time: 24 bits are 24 bits
}

RivalAnswers Cache::rivals(const std::string& key, const Example& example) const
{
    if (root.empty()) return measureRivals(example);
    const auto file = folderOf(root, example.family) / (key + "-" + std::string(rivalsFingerprint) + ".json");
    RivalAnswers answers;
    if (!exists(file))
    {
        answers = measureRivals(example);
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
