#include "Plugin/State.h"

#include "Core/Controls/SettingTable.h"
#include "Core/Ground/Text.h"
#include "Plugin/ReportState.h"

#include <nlohmann/json.hpp>

#include <algorithm>
#include <cmath>

namespace tarry
{
namespace
{
using nlohmann::json;

const char* word(Phase phase)
{
    return phase == Phase::frozen ? "frozen" : phase == Phase::settled ? "settled" : "measuring";
}

json toJson(const Follow::State& follow)
{
    json sides = nullptr;
    if (follow.held)
        for (const auto& side : follow.held->side)
            sides.push_back({{"lag_s", side.lag}, {"polarity", nameOf(side.polarity)}});
    return {{"phase", word(follow.phase)},
            {"held", sides},
            {"by_hand", follow.byHand},
            {"confidence", follow.confidence},
            {"verdict", follow.verdict ? json(nameOf(*follow.verdict)) : json(nullptr)}};
}

/// The reports that undo's steps come with, each once: many steps share one, or that of what is held now.
class ToldReports
{
public:
    static constexpr std::size_t most = 4; // of some 70 kB each; a step of an older one comes back without

    explicit ToldReports(std::shared_ptr<const Report> now) : current(std::move(now)) {}

    /// What a step writes for its report: a place in the list, "now", or null.
    json placeOf(const std::shared_ptr<const Report>& told)
    {
        if (!told) return nullptr;
        if (told == current) return "now";
        const auto found = std::find(kept.begin(), kept.end(), told);
        if (found == kept.end() && kept.size() == most) return nullptr;
        const auto place = found - kept.begin();
        if (found == kept.end()) kept.push_back(told);
        return place;
    }
    [[nodiscard]] json list() const
    {
        json all = json::array();
        for (const auto& each : kept) all.push_back(reportToJson(*each));
        return all;
    }

private:
    std::shared_ptr<const Report> current;
    std::vector<std::shared_ptr<const Report>> kept;
};

json toJson(const History<Follow::State>& history, ToldReports& reports)
{
    const auto& steps = history.steps();
    const auto first = steps.size() - std::min(steps.size(), State::savedSteps);
    std::vector<json> places(steps.size());
    for (auto i = steps.size(); i-- > first;) places[i] = reports.placeOf(steps[i].state.told); // the latest go first
    json list = json::array();
    for (std::size_t i = first; i < steps.size(); ++i)
    {
        const auto& [what, state, beside] = steps[i];
        json step = {{"what", what}, {"follow", toJson(state)}, {"report", places[i]}};
        if (!beside.settings.empty()) step["settings"] = beside.settings;
        if (beside.trial) step["trial"] = *beside.trial;
        if (beside.preset) step["preset"] = *beside.preset;
        list.push_back(std::move(step));
    }
    return list;
}

// A value of the right kind and range, or what stood there before.
void read(const json& from, const char* key, bool& value)
{
    if (const auto found = from.find(key); found != from.end() && found->is_boolean()) value = found->get<bool>();
}

void read(const json& from, const char* key, double& value, double least, double most)
{
    const auto found = from.find(key);
    if (found == from.end() || !found->is_number()) return;
    const double number = found->get<double>();
    if (std::isfinite(number) && number >= least && number <= most) value = number;
}

json part(const json& from, const char* key)
{
    const auto found = from.find(key);
    return found != from.end() && found->is_object() ? *found : json::object();
}

std::string text(const json& from, const char* key)
{
    const auto found = from.find(key);
    return found != from.end() && found->is_string() ? found->get<std::string>() : std::string{};
}

constexpr const char* never = "blend"; // for judging only: no session opens with it on

/// By id, in their own units, as far as they are in range.
std::map<std::string, double> readSettings(const json& all, int version)
{
    std::map<std::string, double> values;
    const auto take = [&](const std::string& id, const json& value, double factor = 1.0)
    {
        const auto* setting = findSetting(id);
        if (setting == nullptr || id == never || !(value.is_number() || value.is_boolean())) return;
        const double number = value.is_boolean() ? (value.get<bool>() ? 1.0 : 0.0) : value.get<double>() * factor;
        if (number >= setting->least && number <= setting->most) values[id] = number;
    };
    if (version > 1)
    {
        const auto settings = part(all, "settings");
        for (const auto& [id, value] : settings.items()) take(id, value);
        return values;
    }
    // Version 1 kept the host's parameters apart from the rest, the rest in SI, and `measure` was called `listen`.
    const auto parameters = part(all, "parameters"), setup = part(all, "setup");
    for (const auto& [id, value] : parameters.items()) take(id == "listen" ? "measure" : id, value);
    for (const auto& [id, value] : setup.items())
    {
        if (id == "look_ahead_s") take("lookAhead", value, 1000.0);
        if (id == "room_arrives_late") take("roomArrivesLate", value);
        if (id == "temperature_c") take("temperature", value);
    }
    return values;
}

std::optional<Follow::State> readFollow(const json& from)
{
    const auto phase = text(from, "phase");
    if (phase.empty()) return std::nullopt;
    Follow::State follow;
    follow.phase = phase == word(Phase::frozen) ? Phase::frozen : Phase::measuring; // what was heard is not saved
    read(from, "by_hand", follow.byHand);
    read(from, "confidence", follow.confidence, 0.0, 1.0);
    for (const auto verdict : {Verdict::align, Verdict::leave, Verdict::unsure})
        if (text(from, "verdict") == nameOf(verdict)) follow.verdict = verdict;

    const auto held = from.find("held");
    if (held == from.end() || !held->is_array() || held->empty()) return follow;
    Sides sides;
    for (std::size_t i = 0; i < sides.side.size(); ++i)
    {
        const auto& side = (*held)[std::min(i, held->size() - 1)];
        constexpr double none = 1.0; // s, outside of any lag
        double lag = none;
        read(side, "lag_s", lag, -0.1, 0.2);
        if (lag == none) return std::nullopt; // half a value is worse than none
        const bool inverted = text(side, "polarity") == nameOf(Polarity::inverted);
        sides.side[i] = {lag, inverted ? Polarity::inverted : Polarity::normal};
    }
    follow.held = sides;
    return follow;
}

std::shared_ptr<const Report> readReport(const json& from)
{
    auto told = reportFromJson(from);
    return told ? std::make_shared<const Report>(std::move(*told)) : nullptr;
}

History<Follow::State> readHistory(const json& all, const std::shared_ptr<const Report>& current)
{
    std::vector<std::shared_ptr<const Report>> reports;
    if (const auto list = all.find("undo_reports"); list != all.end() && list->is_array())
        for (const auto& each : *list)
            if (reports.size() < ToldReports::most) reports.push_back(readReport(each));
    const auto reportOf = [&](const json& step) -> std::shared_ptr<const Report>
    {
        if (text(step, "report") == "now") return current;
        const auto place = step.find("report");
        const bool isPlace = place != step.end() && place->is_number_unsigned();
        return isPlace && place->get<std::size_t>() < reports.size() ? reports[place->get<std::size_t>()] : nullptr;
    };
    History<Follow::State> history;
    const auto undo = all.find("undo");
    if (undo == all.end()) return history;
    if (undo->is_object()) // version 1 kept one step, without a name
        if (const auto follow = readFollow(*undo)) history.remember("the last act", *follow);
    if (!undo->is_array()) return history;
    for (const auto& step : *undo)
    {
        if (!step.is_object()) continue;
        const auto kept = part(step, "follow");
        auto follow = readFollow(kept);
        if (!follow) continue;
        follow->told = reportOf(step);
        Beside beside;
        beside.settings = readSettings(step, State::currentVersion);
        if (step.contains("trial")) beside.trial = text(step, "trial");
        if (step.contains("preset")) beside.preset = text(step, "preset");
        history.remember(text(step, "what"), *follow, beside);
    }
    return history;
}

/// No state of ours is longer or deeper, and a parser that trusts a stranger's brackets can be made to fall.
bool isBounded(std::string_view blob)
{
    constexpr std::size_t longest = 8U << 20U;
    constexpr int deepest = 16;
    if (blob.size() > longest) return false;
    int depth = 0;
    bool quoted = false;
    for (std::size_t i = 0; i < blob.size() && depth <= deepest; ++i)
    {
        const char c = blob[i];
        if (quoted && c == '\\')
            ++i;
        else if (c == '"')
            quoted = !quoted;
        else if (!quoted && (c == '{' || c == '['))
            ++depth;
        else if (!quoted && (c == '}' || c == ']'))
            --depth;
    }
    return depth <= deepest;
}
} // namespace

std::string writeState(const State& state)
{
    json settings = state.settings;
    settings.erase(never);
    ToldReports reports(state.follow.told);
    const json undo = toJson(state.history, reports);
    const json all = {{"tarry_state", State::currentVersion},
                      {"settings", settings},
                      {"follow", toJson(state.follow)},
                      {"undo", undo},
                      {"undo_reports", reports.list()},
                      {"names",
                       {{"spot", state.names.spot},
                        {"room", state.names.room},
                        {"cue", state.names.cue},
                        {"take", state.names.take},
                        {"date", state.names.date},
                        {"spot_by_hand", state.spotNamedByHand}}},
                      {"inputs", nameOf(state.inputs)},
                      {"preset", state.preset},
                      {"trial", state.trial},
                      {"trials", state.trials},
                      {"screen", state.screen},
                      {"report", state.follow.told ? reportToJson(*state.follow.told) : json(nullptr)}};
    // A file name that is no UTF-8 must not cost the session its state.
    return all.dump(-1, ' ', false, json::error_handler_t::replace);
}

std::optional<State> readState(std::string_view blob)
{
    if (!isBounded(blob)) return std::nullopt;
    const auto all = json::parse(blob.begin(), blob.end(), nullptr, false);
    if (!all.is_object()) return std::nullopt;
    const auto version = all.find("tarry_state");
    if (version == all.end() || !version->is_number_integer() || version->get<int>() < 1) return std::nullopt;

    State state;
    state.settings = readSettings(all, version->get<int>());
    const auto follow = part(all, "follow");
    state.follow = readFollow(follow).value_or(Follow::State{});
    if (const auto report = all.find("report"); report != all.end() && version->get<int>() > 1)
        state.follow.told = readReport(*report);
    state.history = readHistory(all, state.follow.told);
    const auto names = part(all, "names");
    state.names = {text(names, "spot"), text(names, "room"), text(names, "cue"), text(names, "take"),
                   text(names, "date")};
    read(names, "spot_by_hand", state.spotNamedByHand);
    state.inputs = inputNamed(text(all, "inputs")).value_or(InputState::good);
    state.preset = text(all, "preset");
    if (const auto trials = all.find("trials"); trials != all.end() && trials->is_array())
        for (const auto& trial : *trials)
            if (trial.is_string()) state.trials.push_back(trial.get<std::string>());
    state.trial = text(all, "trial");
    if (state.trials.empty() && !state.trial.empty()) state.trials = {state.trial}; // version 1 kept one
    const auto screen = part(all, "screen");
    for (const auto& [key, value] : screen.items())
        if (value.is_string()) state.screen[key] = value.get<std::string>();
    return state;
}
} // namespace tarry
