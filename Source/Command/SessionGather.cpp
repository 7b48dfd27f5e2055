#include "Command/SessionGather.h"

#include "Core/Ground/Version.h"
#include "Files/Errors.h"
#include "Files/RowRecall.h"
#include "Files/SessionJson.h"

#include <algorithm>
#include <cmath>
#include <nlohmann/json.hpp>

namespace tarry::command
{
namespace
{
using Json = nlohmann::ordered_json;
constexpr const char* manifestName = "session.json";

/// Pairs of recorders of the same names in several setups are one pair.
void join(std::vector<MachineRecord>& machines, const MachineRecord& more)
{
    for (auto& known : machines)
    {
        if (known.spot != more.spot || known.room != more.room) continue;
        const double one = 1.0 / std::max(1e-4, known.ppmSd * known.ppmSd);
        const double other = 1.0 / std::max(1e-4, more.ppmSd * more.ppmSd);
        known.ppm = (one * known.ppm + other * more.ppm) / (one + other);
        known.ppmSd = std::sqrt(1.0 / (one + other));
        known.takes += more.takes;
        known.matters = known.matters || more.matters;
        return;
    }
    machines.push_back(more);
}

std::string nameOf(const Json& setup)
{
    return setup.at("name").get<std::string>();
}
} // namespace

void keepManifest(const SessionStore& store, const Plan& plan, const SessionSettings& settings,
                  const std::vector<PlannedSetup>& setups)
{
    SessionRecord head;
    head.version = version();
    head.build = build();
    head.plan = plan.file.filename().string();
    head.planned = plan.changed;
    head.wholeSamples = settings.wholeSamples;
    head.timeStamp = settings.timeStamp;
    Json json;
    json["head"] = Json::parse(toJson(head));
    json["plan_folder"] = std::filesystem::absolute(plan.file).parent_path().lexically_normal().string();
    json["setups"] = Json::array();
    for (const auto& setup : setups)
        json["setups"].push_back({{"name", setup.rows.front()->pool()}, {"file", setup.file}});
    store.keepText(manifestName, json.dump(1, ' ', false, Json::error_handler_t::replace) + "\n");
}

void keepSetup(const SessionStore& store, const PlannedSetup& setup, const SessionRecord& record)
{
    store.keepText(setup.file, toJson(record));
}

SessionRecord gather(const std::filesystem::path& output)
{
    std::error_code problem;
    if (!std::filesystem::exists(output / "work" / manifestName, problem))
        throw InputError(output, "holds no session's work: name the folder that -o named when the shards ran");
    const SessionStore store(output / "work");
    SessionRecord record;
    std::string missing;
    try
    {
        const auto manifest = Json::parse(store.text(manifestName).value_or(""));
        record = sessionFromJson(manifest.at("head").dump(), output / "work" / manifestName);
        record.planFolder = manifest.at("plan_folder").get<std::string>();
        for (const auto& setup : manifest.at("setups"))
        {
            const auto text = store.text(setup.at("file").get<std::string>());
            if (!text)
            {
                missing += (missing.empty() ? "" : ", ") + nameOf(setup);
                continue;
            }
            auto part = sessionFromJson(*text, setup.at("file").get<std::string>());
            std::move(part.rows.begin(), part.rows.end(), std::back_inserter(record.rows));
            std::move(part.setups.begin(), part.setups.end(), std::back_inserter(record.setups));
            for (const auto& machine : part.machines) join(record.machines, machine);
        }
    }
    catch (const Json::exception&)
    {
        throw InputError(output / "work" / manifestName, "cannot be read: run the session again");
    }
    if (!missing.empty())
        throw InputError(output, "is not complete, these setups are still to be done: " + missing +
                                     ": run their shards first, or tarry session with --resume");
    std::stable_sort(record.rows.begin(), record.rows.end(),
                     [](const auto& a, const auto& b) { return a.line < b.line; });
    for (auto& row : record.rows) row.recallLine = recallLineOf(row, record);
    return record;
}
} // namespace tarry::command
