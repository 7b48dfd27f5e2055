#include "Plugin/State.h"

#include "Core/Ground/Text.h"

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
const char* word(InputState input)
{
    return input == InputState::noRoom ? "no room" : input == InputState::sameSignal ? "same signal" : "good";
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

/// In the words and units of `tarry measure --json`.
json toJson(const Report& report)
{
    const auto milliseconds = [](const std::optional<double>& s) { return s ? json(*s * 1000.0) : json(nullptr); };
    json each = json::array();
    for (const auto& hit : report.hits)
        each.push_back({{"time_s", hit.time},
                        {"lag_ms", milliseconds(hit.lag)},
                        {"polarity", nameOf(hit.polarity)},
                        {"clear_db", hit.clearDb},
                        {"used", hit.used}});
    return {{"input", word(report.input)},
            {"lag_ms", milliseconds(report.lag)},
            {"polarity", report.polarity ? json(nameOf(*report.polarity)) : json(nullptr)},
            {"confidence", report.confidence},
            {"verdict", nameOf(report.verdict)},
            {"reasons", report.reasons},
            {"hits",
             {{"found", report.hitsFound},
              {"used", report.hitsUsed},
              {"agreeing", report.hitsAgreeing},
              {"lost", report.hitsLost}}},
            {"spread_ms", report.spread * 1000.0},
            {"clear_db", report.clearDb},
            {"each_hit", each}};
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
} // namespace

std::string writeState(const State& state, const Report& report)
{
    json parameters = state.parameters;
    parameters.erase("blend"); // for judging only: no session opens with it on
    const json all = {{"tarry_state", State::currentVersion},
                      {"parameters", parameters},
                      {"setup",
                       {{"look_ahead_s", state.setup.lookAhead},
                        {"room_arrives_late", state.setup.roomArrivesLate},
                        {"temperature_c", state.setup.temperature}}},
                      {"follow", toJson(state.follow)},
                      {"undo", state.undo ? toJson(*state.undo) : json(nullptr)},
                      {"preset", state.preset},
                      {"trial", state.trial},
                      {"screen", state.screen},
                      {"report", toJson(report)}};
    // A file name that is no UTF-8 must not cost the session its state.
    return all.dump(1, ' ', false, json::error_handler_t::replace);
}

std::optional<State> readState(std::string_view blob)
{
    const auto all = json::parse(blob.begin(), blob.end(), nullptr, false);
    if (!all.is_object()) return std::nullopt;
    const auto version = all.find("tarry_state");
    if (version == all.end() || !version->is_number_integer() || version->get<int>() < 1) return std::nullopt;

    State state;
    const auto parameters = part(all, "parameters");
    for (const auto& [id, value] : parameters.items())
        if (value.is_number() && id != "blend") state.parameters[id] = value.get<double>();

    const auto setup = part(all, "setup");
    read(setup, "look_ahead_s", state.setup.lookAhead, 0.0, 0.1);
    read(setup, "room_arrives_late", state.setup.roomArrivesLate);
    read(setup, "temperature_c", state.setup.temperature, -30.0, 50.0);

    state.follow = readFollow(part(all, "follow")).value_or(Follow::State{});
    state.undo = readFollow(part(all, "undo"));
    state.preset = text(all, "preset");
    state.trial = text(all, "trial");
    const auto screen = part(all, "screen");
    for (const auto& [key, value] : screen.items())
        if (value.is_string()) state.screen[key] = value.get<std::string>();
    return state;
}
} // namespace tarry
