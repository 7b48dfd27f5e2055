#include "Command/SessionStore.h"

#include "Files/SafeFile.h"
#include "Files/SessionJson.h"

#include <array>
#include <fstream>
#include <iterator>
#include <nlohmann/json.hpp>

namespace tarry::command
{
namespace
{
namespace fs = std::filesystem;
using Json = nlohmann::json;

constexpr std::array<char, 8> hitsMark{'t', 'a', 'r', 'r', 'y', 'h', '1', '\n'};

template <typename Value>
void put(std::ostream& stream, const Value& value)
{
    stream.write(reinterpret_cast<const char*>(&value), sizeof(value)); // NOLINT: read back on the same machine
}

template <typename Value>
Value get(std::istream& stream)
{
    Value value{};
    stream.read(reinterpret_cast<char*>(&value), sizeof(value)); // NOLINT
    return value;
}

Json jsonOf(const MeasuredTake& take)
{
    SessionRecord one;
    one.rows = {take.row};
    Json json;
    json["record"] = Json::parse(toJson(one));
    const MeasureSettings& s = take.settings;
    json["settings"] = {s.sampleRate, s.spotChannels, s.roomChannels, s.reach,
                        s.lookAhead,  s.temperature,  s.roomChannel};
    json["by_clap"] = take.byClap;
    json["seconds"] = take.seconds;
    json["machines"] = {take.spotMachine, take.roomMachine};
    json["hits"] = Json::array();
    for (const auto& hit : take.hits) json["hits"].push_back({hit.time, hit.lag});
    return json;
}

MeasuredTake takeFrom(const Json& json, const fs::path& name)
{
    MeasuredTake take;
    take.row = sessionFromJson(json.at("record").dump(), name).rows.at(0);
    const Json& s = json.at("settings");
    take.settings = {s.at(0), s.at(1), s.at(2), s.at(3), s.at(4), false, s.at(5), s.at(6)};
    take.byClap = json.at("by_clap");
    take.seconds = json.at("seconds");
    take.spotMachine = json.at("machines").at(0);
    take.roomMachine = json.at("machines").at(1);
    for (const auto& hit : json.at("hits")) take.hits.push_back({hit.at(0), hit.at(1)});
    return take;
}
} // namespace

SessionStore::SessionStore(fs::path workFolder) : folder(std::move(workFolder))
{
    std::error_code problem;
    fs::create_directories(folder, problem);
    if (!fs::is_directory(folder)) throw OutputError(folder, "cannot be made a folder; choose another place with -o");
}

std::optional<MeasuredTake> SessionStore::take(const std::string& key) const
{
    const auto kept = text("take-" + key + ".json");
    if (!kept || !fs::exists(folder / ("take-" + key + ".hits"))) return std::nullopt;
    try
    {
        return takeFrom(Json::parse(*kept), "take-" + key + ".json");
    }
    catch (const std::exception&)
    {
        return std::nullopt; // not to be read: measured again
    }
}

void SessionStore::keep(const std::string& key, const TakeWork& work) const
{
    SafeFile file(folder / ("take-" + key + ".hits"));
    {
        std::ofstream stream(file.temporary(), std::ios::binary);
        stream.write(hitsMark.data(), hitsMark.size());
        put(stream, work.hits.size());
        for (const Hit& hit : work.hits)
        {
            put(stream, hit.number);
            put(stream, hit.onset);
            put(stream, hit.before);
            put(stream, hit.sampleRate);
            put(stream, hit.spotChannels());
            put(stream, hit.roomChannels());
            put(stream, hit.size());
            const auto track = [&](std::span<const float> samples)
            { stream.write(reinterpret_cast<const char*>(samples.data()), std::ssize(samples) * 4); }; // NOLINT
            for (int i = 0; i < hit.spotChannels(); ++i) track(hit.spot(i));
            for (int i = 0; i < hit.roomChannels(); ++i) track(hit.room(i));
        }
        if (!stream.flush()) throw OutputError(file.target(), "cannot be written: make room, or choose another -o");
    }
    file.commit();
    // Last, so that whoever finds it finds the hits too. A name that is not UTF-8 must not stop it.
    keepText("take-" + key + ".json", jsonOf(work.take).dump(-1, ' ', false, Json::error_handler_t::replace));
}

std::vector<Hit> SessionStore::hits(const std::string& key) const
{
    std::ifstream stream(folder / ("take-" + key + ".hits"), std::ios::binary);
    if (get<std::array<char, 8>>(stream) != hitsMark) return {};
    std::vector<Hit> hits(std::min<std::size_t>(get<std::size_t>(stream), 1000));
    for (Hit& hit : hits)
    {
        hit.number = get<std::int64_t>(stream);
        hit.onset = get<std::int64_t>(stream);
        hit.before = get<int>(stream);
        hit.sampleRate = get<double>(stream);
        const int spots = get<int>(stream), rooms = get<int>(stream), frames = get<int>(stream);
        if (!stream || spots < 1 || rooms < 1 || frames < 1 || spots + rooms > 16 || frames > 1'000'000) return {};
        hit.resize(spots, rooms, frames);
        const auto track = [&](std::span<float> samples)
        { stream.read(reinterpret_cast<char*>(samples.data()), std::ssize(samples) * 4); }; // NOLINT
        for (int i = 0; i < spots; ++i) track(hit.spot(i));
        for (int i = 0; i < rooms; ++i) track(hit.room(i));
    }
    return stream ? hits : std::vector<Hit>{};
}

std::optional<std::string> SessionStore::text(const std::string& name) const
{
    std::ifstream stream(folder / name, std::ios::binary);
    if (!stream) return std::nullopt;
    return std::string{std::istreambuf_iterator<char>(stream), std::istreambuf_iterator<char>()};
}

void SessionStore::keepText(const std::string& name, const std::string& text) const
{
    writeTextFile(folder / name, text);
}

void SessionStore::clear() const
{
    for (const auto& entry : fs::directory_iterator(folder))
    {
        std::error_code ignored;
        fs::remove_all(entry.path(), ignored);
    }
}
} // namespace tarry::command
