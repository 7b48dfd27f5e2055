#include "Plugin/State.h"

#include "Core/Report/BlendFigures.h"
#include "Support/Catch.h"

#include <nlohmann/json.hpp>

#include <cmath>

using namespace tarry;

namespace
{
State fullState()
{
    State state;
    state.settings = {{"lean", -7.25},   {"reach", 120.0},       {"aligned", 0.0},
                      {"lookAhead", 20}, {"roomArrivesLate", 0}, {"temperature", 17.5}};
    state.follow = {Phase::frozen,  Sides{{{{0.031084123, Polarity::inverted}, {0.0305, Polarity::normal}}}},
                    false,          0.97,
                    Verdict::align, {}};
    state.history.remember("the lag by hand", {Phase::frozen, Sides::both({0.1, Polarity::normal}), true, 0.0, {}, {}});
    state.history.remember("the preset 'Mine'", {}, {.settings = {{"lean", 4.0}}, .trial = {}, .preset = "Plain"});
    state.names = {"Gran cassa", "Array", "4m12", "3", "2026-11-25"};
    state.spotNamedByHand = true;
    state.inputs = InputState::ownSignal;
    state.trial = "right:12/16,p=0.0384";
    state.trials = {"right:7/16,p=0.7728", "right:12/16,p=0.0384"};
    state.screen = {{"unit", "feet"}};
    return state;
}
} // namespace

TEST_CASE("a state comes back as it was, to the last bit of the lag")
{
    const auto state = fullState();
    const auto back = readState(writeState(state));
    REQUIRE(back.has_value());
    CHECK(back->settings == state.settings);
    CHECK(back->follow == state.follow);
    CHECK(back->history == state.history);
    CHECK(back->names == state.names);
    CHECK(back->spotNamedByHand);
    CHECK(back->inputs == InputState::ownSignal);
    CHECK(back->trial == state.trial);
    CHECK(back->trials == state.trials);
    CHECK(back->screen == state.screen);
}

TEST_CASE("blend is never saved, and never read")
{
    auto state = fullState();
    state.settings["blend"] = 1.0;
    CHECK(writeState(state).find("\"blend\"") == std::string::npos);
    auto text = nlohmann::json::parse(writeState(state));
    text["settings"]["blend"] = 1.0;
    CHECK(readState(text.dump())->settings.count("blend") == 0);
}

namespace
{
/// A report as it comes from a measuring: every field another value than its default.
Report fullReport()
{
    Report report;
    report.clap = true;
    report.hitsFound = 9;
    report.hitsUsed = 8;
    report.hitsAgreeing = 7;
    report.hitsLost = 2;
    report.agreeingLoudness = 0.9;
    report.lag = 0.031084123;
    report.polarity = Polarity::inverted;
    report.confidence = 0.97;
    report.verdict = Verdict::leave;
    report.reasons = {"Nobody knows.", "Gr\xC3\xBC\xC3\x9F"};
    report.spread = 0.0002;
    report.clearDb = 21.4;
    report.runnerUpLag = 0.04;
    report.runnerUpMargin = 0.5;
    report.secondCluster = 0.029;
    report.driftPpm = 0.3;
    report.driftPpmSd = 0.1;
    report.blend = {0.031, 0.001, 3.1, 2.6, -5.0};
    report.lowShare = 0.4;
    report.signsDisagree = true;
    report.bands = {{100, 200, Polarity::inverted, 9.0}};
    report.leakDb = -40.0;
    report.spotSide = 1;
    report.roomChannel = 1;
    report.pairs = {{1, 1, 0.031, Polarity::inverted, 0.97, 21.0}, {0, 1, std::nullopt, std::nullopt, 0.1, 2.0}};
    report.evidence = {-0.001, 0.0001, {0.0F, 0.5F, 1.0F}};
    report.spotAttack = {-0.01, 0.0002, {0.5F, -0.25F}};
    HitWaves waves{48000.0, 960, {}, {}, {}, {}};
    for (auto* channels : {&waves.spot, &waves.room})
        for (const float scale : {0.5F, 0.9F})
        {
            auto& channel = channels->emplace_back(20000);
            for (std::size_t k = 960; k < 4000; ++k)
                channel[k] =
                    scale * std::sin(0.05F * static_cast<float>(k)) * std::exp(-0.001F * static_cast<float>(k));
        }
    const auto shared = std::make_shared<const HitWaves>(waves);
    for (int i = 0; i < 5; ++i)
        report.hits.push_back({0.5 * i, 0.031, Polarity::inverted, 20.0 + i, 0.8, i != 2, true, shared});
    return report;
}
} // namespace

TEST_CASE("verdict, confidence, reasons, figures and picture of what is held survive save and reopen")
{
    auto state = fullState();
    const auto report = fullReport();
    state.follow.told = std::make_shared<const Report>(report);
    const auto text = writeState(state);
    INFO("a state with its report takes " << text.size() << " bytes, limit 150000");
    CHECK(text.size() < 150000);
    const auto back = readState(text);
    REQUIRE(back.has_value());
    REQUIRE(back->follow.told != nullptr);
    const auto& told = *back->follow.told;
    // All but the waveforms comes back to the last bit, so that it writes the same again.
    auto again = *back;
    CHECK(writeState(again).size() == Approx(text.size()).margin(8));
    CHECK(told.lag == report.lag);
    CHECK(told.polarity == report.polarity);
    CHECK(told.confidence == report.confidence);
    CHECK(told.verdict == report.verdict);
    CHECK(told.reasons == report.reasons);
    CHECK(told.hitsAgreeing == report.hitsAgreeing);
    CHECK(told.bands.at(0).polarity == Polarity::inverted);
    CHECK(told.pairs.at(0).polarity == Polarity::inverted);
    CHECK_FALSE(told.pairs.at(1).lag.has_value());
    CHECK(told.hits.size() == report.hits.size());
    CHECK(told.evidence.values.size() == 3);
    CHECK(told.spotAttack.values.at(1) == Approx(-0.25F).margin(1e-4));
    // The figures are worked out from the kept hits, live, as before.
    for (const double lag : {0.031, 0.02, 0.0})
    {
        const auto was = blendAt(report, 1, {lag, Polarity::inverted}),
                   is = blendAt(told, 1, {lag, Polarity::inverted});
        REQUIRE((was && is));
        INFO("low sum at " << lag << " s: " << was->lowSumInvertedDb << " dB, reopened " << is->lowSumInvertedDb);
        CHECK(is->lowSumInvertedDb == Approx(was->lowSumInvertedDb).margin(0.1));
        CHECK(is->attackGainDb == Approx(was->attackGainDb).margin(0.1));
        CHECK(is->flamAfter == was->flamAfter);
    }
}

TEST_CASE("undo's steps keep their reports on reopening, each written once, the latest four at most")
{
    const auto reportSaying = [](const std::string& words)
    {
        auto report = fullReport();
        report.reasons = {words};
        return std::make_shared<const Report>(report);
    };
    State state;
    std::vector<std::shared_ptr<const Report>> reports;
    for (const auto* words : {"one", "two", "three", "four", "five"}) reports.push_back(reportSaying(words));
    for (std::size_t i = 0; i < reports.size(); ++i)
        for (const auto* what : {"the lag by hand", "freezing"}) // two steps share each
            state.history.remember(what + std::to_string(i),
                                   {Phase::frozen, Sides::both({0.01, Polarity::normal}), false, 0.9, {}, reports[i]});
    state.follow = {Phase::frozen, Sides::both({0.02, Polarity::normal}), false, 0.9, {}, reports.back()};
    const auto text = writeState(state);
    for (const auto* words : {"two", "three", "four", "five"})
    {
        const auto at = text.find("[\"" + std::string(words) + "\"]");
        INFO(words << " is written at " << at << ", then at " << text.find("[\"" + std::string(words) + "\"]", at + 1));
        CHECK(at != std::string::npos);
        CHECK(text.find("[\"" + std::string(words) + "\"]", at + 1) == std::string::npos);
    }
    const auto back = readState(text);
    REQUIRE(back.has_value());
    const auto& steps = back->history.steps();
    REQUIRE(steps.size() == 10);
    for (std::size_t i = 0; i < reports.size(); ++i)
        for (const std::size_t k : {2 * i, 2 * i + 1})
        {
            INFO("step " << k);
            REQUIRE(steps[k].state.told);
            CHECK(steps[k].state.told->reasons == reports[i]->reasons);
        }
    CHECK(steps[9].state.told == back->follow.told); // what is held now came from it too
    // Of a sixth the first has to go: its steps come back, without their report.
    state.follow.told = reportSaying("six");
    const auto fewer = readState(writeState(state));
    REQUIRE(fewer.has_value());
    REQUIRE(fewer->history.steps().size() == 10);
    CHECK(fewer->history.steps()[0].state.told == nullptr);
    CHECK(fewer->history.steps()[2].state.told->reasons == reports[1]->reasons);
    // What points to nowhere, or to something else than a report, costs the report alone.
    for (const auto& odd : {nlohmann::json(99), nlohmann::json(-1), nlohmann::json("then"), nlohmann::json::array()})
    {
        auto broken = nlohmann::json::parse(text);
        broken["undo"][0]["report"] = odd;
        const auto read = readState(broken.dump());
        INFO(odd);
        REQUIRE(read.has_value());
        CHECK(read->history.steps().size() == 10);
        CHECK(read->history.steps()[0].state.told == nullptr);
    }
}

TEST_CASE("a report that is broken costs its picture or itself, never the state or a crash")
{
    auto state = fullState();
    state.follow.told = std::make_shared<const Report>(fullReport());
    const auto whole = nlohmann::json::parse(writeState(state));
    const auto flat = whole["report"].flatten();
    for (const auto& [path, value] : flat.items())
        for (const auto& odd : {nlohmann::json(nullptr), nlohmann::json(-3), nlohmann::json("x"),
                                nlohmann::json::array(), nlohmann::json::object(), nlohmann::json(1e300)})
        {
            auto broken = whole;
            broken["report"][nlohmann::json::json_pointer(path)] = odd;
            const auto back = readState(broken.dump());
            INFO(path << " is " << odd);
            REQUIRE(back.has_value());
            CHECK(back->follow.held == state.follow.held);
            if (!back->follow.told) continue;
            (void)blendAt(*back->follow.told, 0, {0.03, Polarity::normal});
        }
}

TEST_CASE("waveforms of a rate that nothing is kept at are left out: no figure is worked out from them")
{
    auto state = fullState();
    state.follow.told = std::make_shared<const Report>(fullReport());
    for (const double rate : {1e300, 1e7, 10.0, -48000.0})
    {
        auto odd = nlohmann::json::parse(writeState(state));
        int changed = 0;
        for (auto& hit : odd["report"]["each_hit"])
            if (hit.contains("waves") && hit["waves"].is_object())
            {
                hit["waves"]["rate_hz"] = rate;
                ++changed;
            }
        REQUIRE(changed > 0);
        const auto back = readState(odd.dump());
        INFO(rate << " Hz");
        REQUIRE(back.has_value());
        REQUIRE(back->follow.told != nullptr);
        for (const auto& hit : back->follow.told->hits) CHECK(hit.waves == nullptr);
    }
}

TEST_CASE("what is too deep or too long for a state is refused, in any wrapping")
{
    const std::string deep = "{\"tarry_state\":2,\"x\":" + std::string(100000, '[') + std::string(100000, ']') + "}";
    CHECK_FALSE(readState(deep).has_value());
    CHECK_FALSE(readState(std::string(100000, '{')).has_value());
    CHECK_FALSE(readState("{\"tarry_state\":2,\"x\":\"" + std::string(9U << 20U, 'x') + "\"}").has_value());
    CHECK(readState("{\"tarry_state\":2,\"x\":\"" + std::string(1000, '[') + "\"}").has_value()); // in a text
}

TEST_CASE("states of version 1, as saved by the first release, load")
{
    // Frozen text, not written by this code: it must load in every later version.
    const auto state = readState(R"({"tarry_state":1,"parameters":{"lean":8.0,"wholeSamples":1.0,"listen":0.0},
        "setup":{"look_ahead_s":0.01,"room_arrives_late":false,"temperature_c":21.0},
        "follow":{"phase":"frozen","held":[{"lag_s":0.031084,"polarity":"inverted"},
                  {"lag_s":0.031084,"polarity":"inverted"}],"by_hand":true,"confidence":0.5},
        "undo":{"phase":"listening","held":null,"by_hand":false,"confidence":0,"verdict":null},
        "preset":"Hard sticks","trial":"right:12/16,p=0.0384","screen":{},"report":{}})");
    REQUIRE(state.has_value());
    CHECK(state->settings == std::map<std::string, double>{{"lean", 8.0},
                                                           {"wholeSamples", 1.0},
                                                           {"measure", 0.0},
                                                           {"lookAhead", 10.0},
                                                           {"roomArrivesLate", 0.0},
                                                           {"temperature", 21.0}});
    CHECK(state->follow.phase == Phase::frozen);
    REQUIRE(state->follow.held.has_value());
    CHECK(state->follow.held->side[1] == Alignment{0.031084, Polarity::inverted});
    CHECK(state->follow.byHand);
    CHECK(state->history.undoWords() == "the last act"); // it kept one step, without a name
    CHECK(state->history.steps().front().state.phase == Phase::measuring);
    CHECK(state->trials == std::vector<std::string>{"right:12/16,p=0.0384"});
    CHECK(state->preset == "Hard sticks");
}

TEST_CASE("a state of a later version gives what is known of it")
{
    const auto state = readState(R"({"tarry_state":7,"settings":{"lean":8.0,"unheardOf":3},"follow":{"phase":"frozen",
        "held":[{"lag_s":0.02,"polarity":"normal"}]},"more":[1,2,3]})");
    REQUIRE(state.has_value());
    CHECK(state->settings == std::map<std::string, double>{{"lean", 8.0}});
    CHECK(state->follow.held->side[1].lag == 0.02); // one side saved: both
}

TEST_CASE("what is no state of ours, or broken, is refused; what is out of range keeps its default")
{
    const auto whole = writeState(fullState());
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
    CHECK(odd->settings.empty());
    CHECK(odd->follow == Follow::State{}); // half a value is worse than none
    CHECK_FALSE(odd->history.canUndo());
    CHECK(odd->screen == std::map<std::string, std::string>{{"b", "2"}});
}
