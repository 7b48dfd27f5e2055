#include "Plugin/State.h"
#include "Support/Catch.h"

#include <nlohmann/json.hpp>

using namespace tarry;

namespace
{
State fullState()
{
    State state;
    state.parameters = {{"lean", -7.25}, {"reach", 120.0}, {"aligned", 0.0}};
    state.setup = {.lookAhead = 0.02, .roomArrivesLate = false, .temperature = 17.5};
    state.follow = {Phase::frozen, Sides{{{{0.031084123, Polarity::inverted}, {0.0305, Polarity::normal}}}}, false,
                    0.97, Verdict::align};
    state.undo = Follow::State{Phase::frozen, Sides::both({0.1, Polarity::normal}), true, 0.0, {}};
    state.screen = {{"unit", "feet"}};
    return state;
}
} // namespace

TEST_CASE("a state comes back as it was, to the last bit of the lag")
{
    const auto state = fullState();
    const auto back = readState(writeState(state, {}));
    REQUIRE(back.has_value());
    CHECK(back->parameters == state.parameters);
    CHECK(back->setup == state.setup);
    CHECK(back->follow == state.follow);
    CHECK(back->undo == state.undo);
    CHECK(back->screen == state.screen);
}

TEST_CASE("blend is never saved, and never read")
{
    auto state = fullState();
    state.parameters["blend"] = 1.0;
    CHECK(writeState(state, {}).find("\"blend\"") == std::string::npos);
    auto text = nlohmann::json::parse(writeState(state, {}));
    text["parameters"]["blend"] = 1.0;
    CHECK(readState(text.dump())->parameters.count("blend") == 0);
}

TEST_CASE("the report goes along for people and programs, in the words of the command")
{
    Report report;
    report.lag = 0.031084;
    report.polarity = Polarity::inverted;
    report.verdict = Verdict::leave;
    report.input = InputState::sameSignal;
    const auto json = nlohmann::json::parse(writeState({}, report));
    CHECK(json["report"]["lag_ms"] == Approx(31.084));
    CHECK(json["report"]["polarity"] == "inverted");
    CHECK(json["report"]["verdict"] == "leave");
    CHECK(json["report"]["input"] == "same signal");
    CHECK(nlohmann::json::parse(writeState({}, {}))["report"]["lag_ms"].is_null());
}

TEST_CASE("states of version 1, as saved by the first release, load")
{
    // Frozen text, not written by this code: it must load in every later version.
    const auto state = readState(R"({"tarry_state":1,"parameters":{"lean":8.0,"wholeSamples":1.0},
        "setup":{"look_ahead_s":0.01,"room_arrives_late":false,"temperature_c":21.0},
        "follow":{"phase":"frozen","held":[{"lag_s":0.031084,"polarity":"inverted"},
                  {"lag_s":0.031084,"polarity":"inverted"}],"by_hand":true,"confidence":0.5},
        "undo":null,"screen":{},"report":{}})");
    REQUIRE(state.has_value());
    CHECK(state->parameters.at("lean") == 8.0);
    CHECK(state->setup.lookAhead == 0.01);
    CHECK_FALSE(state->setup.roomArrivesLate);
    CHECK(state->follow.phase == Phase::frozen);
    REQUIRE(state->follow.held.has_value());
    CHECK(state->follow.held->side[1] == Alignment{0.031084, Polarity::inverted});
    CHECK(state->follow.byHand);
}

TEST_CASE("a state of a later version gives what is known of it")
{
    const auto state = readState(R"({"tarry_state":7,"parameters":{"lean":8.0,"unheardOf":3},"follow":{"phase":"frozen",
        "held":[{"lag_s":0.02,"polarity":"normal"}]},"more":[1,2,3]})");
    REQUIRE(state.has_value());
    CHECK(state->parameters.at("lean") == 8.0);
    CHECK(state->follow.held->side[1].lag == 0.02); // one side saved: both
}

TEST_CASE("what is no state of ours, or broken, is refused; what is out of range keeps its default")
{
    const auto whole = writeState(fullState(), {});
    for (const std::string bad : {"", "x", "{", "[]", "null", "{}", R"({"tarry_state":0})", R"({"tarry_state":"1"})",
                                  R"({"parameters":{"lean":1}})"})
    {
        INFO(bad);
        CHECK_FALSE(readState(bad).has_value());
    }
    for (std::size_t length = 0; length + 1 < whole.size(); length += 7)
    {
        INFO("cut after " << length << " characters");
        CHECK_FALSE(readState(whole.substr(0, length)).has_value());
    }

    const auto odd = readState(R"({"tarry_state":1,"parameters":[1],"setup":{"look_ahead_s":5,"temperature_c":"warm",
        "room_arrives_late":3},"follow":{"phase":"frozen","held":[{"lag_s":9,"polarity":"normal"}]},
        "undo":{"phase":4},"screen":{"a":1,"b":"2"}})");
    REQUIRE(odd.has_value());
    CHECK(odd->parameters.empty());
    CHECK(odd->setup == Setup{});
    CHECK(odd->follow == Follow::State{}); // half a value is worse than none
    CHECK_FALSE(odd->undo.has_value());
    CHECK(odd->screen == std::map<std::string, std::string>{{"b", "2"}});
}
