#include "Core/Controls/SettingTable.h"
#include "Host/AudioFile.h"
#include "Plugin/Recording.h"
#include "Support/Catch.h"
#include "Support/Process.h"
#include "Support/Skip.h"

#include <nlohmann/json.hpp>

#include <cmath>
#include <filesystem>

using namespace tarry::test;
using nlohmann::json;
using tarry::host::Audio;
using tarry::host::readAudio;
using tarry::host::writeAudio;

namespace
{
const std::vector<std::string> bundles{TARRY_VST3, TARRY_LV2};

struct Played // NOLINT(bugprone-exception-escape): the JSON library's move
{
    json said;
    Audio out;
};

/// Files on disk, and the plugin in the host on them.
class Session
{
public:
    explicit Session(const RecordingPlan& plan)
    {
        const auto recording = makeRecording(plan);
        writeAudio(file("spot.wav"), {recording.sampleRate, recording.spot});
        writeAudio(file("room.wav"), {recording.sampleRate, recording.room});
    }

    [[nodiscard]] std::string file(const std::string& name) const { return (folder / name).string(); }
    [[nodiscard]] Audio spot() const { return readAudio(file("spot.wav")); }

    [[nodiscard]] Played host(const std::string& plugin, const std::vector<std::string>& options,
                              const std::string& room = "room.wav") const
    {
        std::vector<std::string> command{TARRY_HOST, "--plugin",      plugin,   "--spot", file("spot.wav"),
                                         "--out",    file("out.wav"), "--json", "-"};
        if (!room.empty()) command.insert(command.end(), {"--room", file(room)});
        command.insert(command.end(), options.begin(), options.end());
        const auto result = runProgram(command);
        INFO(plugin << "\n" << result.errors << result.output);
        REQUIRE(result.status == 0);
        return {json::parse(result.output), readAudio(file("out.wav"))};
    }

    [[nodiscard]] ProcessResult command(std::vector<std::string> arguments) const
    {
        arguments.insert(arguments.begin(), TARRY_COMMAND);
        return runProgram(arguments);
    }

private:
    TemporaryFolder folder;
};

std::string frozenState(double lag, const std::string& polarity, const json& more = json::object())
{
    const json side = {{"lag_s", lag}, {"polarity", polarity}};
    json state = {{"follow", {{"phase", "frozen"}, {"held", {side, side}}}}};
    state.merge_patch(more);
    return state.dump();
}

/// Samples of the first that are not, bit for bit, those of the second moved by `shift`. What the second lacks is
/// silence.
int differences(const Audio& a, const Audio& b, int shift = 0)
{
    int count = a.channels.size() == b.channels.size() ? 0 : 1;
    for (std::size_t c = 0; c < std::min(a.channels.size(), b.channels.size()); ++c)
        for (int k = 0; k < static_cast<int>(a.frames()); ++k)
        {
            const int from = k - shift;
            const bool inside = from >= 0 && from < static_cast<int>(b.frames());
            const float expected = inside ? b.channels[c][static_cast<std::size_t>(from)] : 0.0F;
            if (a.channels[c][static_cast<std::size_t>(k)] != expected) ++count;
        }
    return count;
}

/// The figures that plugin and command have to agree on, to the decimals that the command writes.
json figures(const json& said)
{
    json result;
    for (const auto* key : {"lag_ms", "confidence", "spread_ms", "clear_db"})
    {
        const double decimals = std::string(key) == "lag_ms" ? 1.0e6 : 1.0e3;
        const auto& value = said.at(key);
        result[key] = value.is_number() ? json(std::round(value.get<double>() * decimals) / decimals) : value;
    }
    for (const auto* key : {"polarity", "verdict"}) result[key] = said.at(key);
    for (const auto* key : {"found", "used", "agreeing"}) result[key] = said.at("hits").at(key);
    return result;
}
} // namespace

TEST_CASE("frozen: the plugin's output is `tarry print`'s, sample for sample")
{
    const int channels = GENERATE(1, 2);
    const Session session({.seed = 51, .hits = 3, .spotChannels = channels, .roomChannels = 1});
    const auto printed = session.command({"print", session.file("spot.wav"), "-o", session.file("print.wav"),
                                          "--lag-ms", "31.0837", "--polarity", "inverted", "--lean", "8.37"});
    INFO(printed.errors);
    REQUIRE(printed.status == 0);
    const auto expected = readAudio(session.file("print.wav"));
    const auto spot = session.spot();
    REQUIRE(differences(expected, spot) > 1000); // it is delayed at all

    for (const auto& plugin : bundles)
        for (const std::vector<std::string>& mode : {std::vector<std::string>{"--offline", "--block", "1000,64,1"},
                                                     std::vector<std::string>{"--pace", "0", "--block", "512"}})
            for (const double lookAhead : {0.0, 0.02})
            {
                auto options = mode;
                const json more = {{"settings", {{"lean", 8.37}, {"lookAhead", 1e3 * lookAhead}}}};
                options.insert(options.end(), {"--merge-state", frozenState(0.0310837, "inverted", more)});
                auto played = session.host(plugin, options);
                INFO(plugin << " " << mode.front() << ", look-ahead " << lookAhead << " s");
                CHECK(played.said["latency_samples"] == std::lround(lookAhead * 48000.0));
                CHECK(played.said["phase"] == "frozen");
                auto out = played.out;
                REQUIRE(out.frames() >= expected.frames());
                for (auto& channel : out.channels) channel.resize(expected.frames());
                CHECK(differences(out, expected) == 0);
            }
}

TEST_CASE("a session that asks for the LV2 of the first builds plays as it was left")
{
    const Session session({.seed = 53, .hits = 3, .spotChannels = 2, .roomChannels = 2});
    const auto left = session.host(TARRY_FORMER_LV2, {"--offline", "--merge-state", frozenState(0.0310837, "inverted"),
                                                      "--save-state", session.file("left.state")});
    REQUIRE(differences(left.out, session.spot()) > 1000);
    const auto opened = session.host(TARRY_FORMER_LV2, {"--offline", "--load-state", session.file("left.state")});
    CHECK(opened.said["phase"] == "frozen");
    CHECK(differences(opened.out, left.out) == 0);
    const auto ours = session.host(TARRY_LV2, {"--offline", "--merge-state", frozenState(0.0310837, "inverted")});
    CHECK(differences(ours.out, left.out) == 0);
}

TEST_CASE("measuring: the same figures as `tarry measure`, offline with any blocks, twice, and in real time")
{
    // Stereo, so that VST3 and LV2 hear the same.
    const Session session({.seed = 52, .lag = 0.031, .hits = 10, .spotChannels = 2, .roomChannels = 2});
    const auto measured =
        session.command({"measure", session.file("spot.wav"), session.file("room.wav"), "--json", "-"});
    INFO(measured.errors);
    REQUIRE(measured.status == 0);
    const auto expected = figures(json::parse(measured.output));
    REQUIRE(expected["found"] >= 8);
    REQUIRE(std::abs(expected["lag_ms"].get<double>() - 31.0) < 0.5);

    for (const auto& plugin : bundles)
    {
        const std::vector<std::string> on{"--set", "freezeWhenSettled=off", "--set-after", "measure=off"};
        Played first;
        for (const std::string blocks : {"512", "512", "8192", "1,64,1000"})
        {
            auto options = on;
            options.insert(options.end(), {"--offline", "--block", blocks});
            const auto played = session.host(plugin, options);
            INFO(plugin << " offline, blocks " << blocks);
            CHECK(figures(played.said) == expected);
            CHECK(played.said["phase"] == "frozen");
            if (first.said.is_null()) first = played;
            CHECK(played.said["each_hit"] == first.said["each_hit"]);
            CHECK(played.said["held"] == first.said["held"]);
            CHECK(differences(played.out, first.out) == 0);
        }
        auto options = on;
        options.insert(options.end(), {"--pace", "4", "--block", "256"});
        const auto live = session.host(plugin, options);
        INFO(plugin << " in real time");
        CHECK(live.said["hits"]["lost"] == 0);
        CHECK(figures(live.said) == expected);
        CHECK(live.said["held"] == first.said["held"]);
        REQUIRE(live.said["held"].is_array()); // it settled
        CHECK(live.said["held"][0]["lag_s"].get<double>() ==
              Approx(expected["lag_ms"].get<double>() / 1000.0).epsilon(1e-9));
    }
}

TEST_CASE("state: saved by the host, loaded by another process at another rate")
{
    const Session at48({.seed = 53, .hits = 1, .spotChannels = 2, .roomChannels = 2});
    const Session at96({.seed = 53, .sampleRate = 96000.0, .hits = 1, .spotChannels = 2, .roomChannels = 2});
    for (const auto& plugin : bundles)
    {
        const auto first = at48.host(plugin, {"--offline", "--merge-state", frozenState(0.01, "normal"), "--save-state",
                                              at48.file("state"), "--set", "lean=2.5", "--set", "blend=on"});
        const auto second = at96.host(plugin, {"--offline", "--load-state", at48.file("state")});
        INFO(plugin);
        CHECK(first.said["parameters"]["Lean"]["value"] == second.said["parameters"]["Lean"]["value"]);
        CHECK(second.said["parameters"]["Blend"]["value"] == 0.0);
        CHECK(second.said["phase"] == "frozen");
        CHECK(second.said["held"] == first.said["held"]);
        CHECK(differences(second.out, at96.spot(), 960 + 240) == 0);
    }
}

TEST_CASE("no side-chain, the same signal twice, the spot's own, later: said, nothing measured, the spot untouched")
{
    const Session session({.seed = 54, .hits = 8, .spotChannels = 2, .roomChannels = 2});
    Audio later = session.spot(); // as through a bus or an effect
    for (auto& channel : later.channels)
    {
        std::rotate(channel.rbegin(), channel.rbegin() + 700, channel.rend());
        std::fill_n(channel.begin(), 700, 0.0F);
        for (float& x : channel) x *= 0.5F;
    }
    writeAudio(session.file("own.wav"), later);
    for (const auto& plugin : bundles)
        for (const std::string mode : {"--offline", "--pace=8"})
        {
            INFO(plugin << " " << mode);
            const auto alone = session.host(plugin, {mode}, "");
            CHECK(alone.said["state"]["inputs"] == "no room");
            CHECK(alone.said["phase"] == "measuring");
            CHECK(alone.said["held"].is_null());
            CHECK(differences(alone.out, session.spot()) == 0);
            const auto twice = session.host(plugin, {mode}, "spot.wav");
            CHECK(twice.said["state"]["inputs"] == "same signal");
            CHECK(twice.said["phase"] == "measuring");
            CHECK(twice.said["held"].is_null());
            CHECK(differences(twice.out, session.spot()) == 0);
            // Told hit by hit: in real time the worker of a busy machine needs a moment more.
            const auto own = session.host(plugin, {mode, "--tail", "16"}, "own.wav");
            CHECK(own.said["state"]["inputs"] == "own signal");
            CHECK(own.said["phase"] == "measuring");
            CHECK(own.said["held"].is_null());
            CHECK(differences(own.out, session.spot()) == 0);
            CHECK(session.host(plugin, {mode}).said["state"]["inputs"] == "good");
        }
}

TEST_CASE("look-ahead: told to the host, and the lag is still that of the recordings, whichever way the room arrives")
{
    const Session session({.seed = 55, .lag = 0.025, .hits = 8, .spotChannels = 2, .roomChannels = 2});
    for (const auto& plugin : bundles)
        for (const bool late : {true, false})
        {
            const json setup = {{"settings", {{"lookAhead", 10.0}, {"roomArrivesLate", late}}}};
            std::vector<std::string> options{"--offline", "--merge-state", setup.dump(), "--set-after", "measure=off"};
            if (late) options.push_back("--room-late");
            const auto played = session.host(plugin, options);
            INFO(plugin << ", late " << late << ": lag " << played.said["lag_ms"] << " ms, truth 25 ms, limit 0.5 ms");
            CHECK(played.said["latency_samples"] == 480);
            CHECK(std::abs(played.said["lag_ms"].get<double>() - 25.0) < 0.5);
        }
}

TEST_CASE("a spot that is later than the room is moved earlier")
{
    const Session session({.seed = 56, .lag = -0.005, .hits = 8, .spotChannels = 2, .roomChannels = 2});
    const auto played = session.host(TARRY_VST3, {"--offline", "--room-late", "--merge-state",
                                                  R"({"settings":{"lookAhead":20.0}})", "--set-after", "measure=off"});
    INFO("lag " << played.said["lag_ms"] << " ms, truth -5 ms, limit 0.5 ms");
    CHECK(std::abs(played.said["lag_ms"].get<double>() + 5.0) < 0.5);
}

TEST_CASE("parameters, set by id or name in their own unit, in both formats")
{
    const Session session({.seed = 57, .hits = 1, .spotChannels = 2, .roomChannels = 2});
    for (const auto& plugin : bundles)
    {
        const auto said = session
                              .host(plugin, {"--offline", "--set", "lean=-7.25", "--set", "Room channel=2", "--set",
                                             "reach=120", "--set", "blendRoom=-12.5", "--set", "wholeSamples=on"})
                              .said;
        const auto& parameters = said["state"]["settings"];
        INFO(plugin << " " << parameters);
        CHECK(parameters["lean"].get<double>() == Approx(-7.25).margin(1e-5));
        CHECK(parameters["roomChannel"] == 2.0);
        CHECK(parameters["reach"].get<double>() == Approx(120.0).margin(1e-4));
        CHECK(parameters["blendRoom"].get<double>() == Approx(-12.5).margin(1e-4));
        CHECK(parameters["wholeSamples"] == 1.0);
        CHECK_FALSE(parameters.contains("blend"));
    }
}

TEST_CASE("presets: the host's own list, in both formats, sets what each is named for")
{
    const Session session({.seed = 60, .hits = 1, .spotChannels = 2, .roomChannels = 2});
    for (const auto& plugin : bundles)
    {
        const auto leading = session.host(plugin, {"--offline", "--preset", "Room leads by 10 ms"}).said;
        INFO(plugin << " " << leading["presets"] << " " << leading["state"]["settings"]);
        REQUIRE(leading["presets"].size() == 8); // a new instance's settings, and one for each usual job
        CHECK(std::count(leading["presets"].begin(), leading["presets"].end(), "Hard sticks") == 1); // LV2 has no order
        CHECK(leading["state"]["settings"]["lean"].get<double>() == Approx(10.0).margin(1e-5));
        CHECK(leading["state"]["preset"] == "Room leads by 10 ms");
        // And the host shows what the preset has set.
        const auto chosen = session.host(plugin, {"--offline", "--preset", "Clap at the instrument"}).said;
        CHECK(chosen["state"]["settings"]["reach"].get<double>() == Approx(150.0).margin(1e-4));
        CHECK(chosen["state"]["settings"]["clap"] == 1.0);
        for (const auto& setting : tarry::settingTable())
            if (setting.isParameter() && setting.kept == tarry::Setting::Kept::preset)
            {
                const auto shown = chosen["parameters"][std::string(setting.hostName)]["value"].get<double>();
                const auto set = chosen["state"]["settings"][std::string(setting.id)].get<double>();
                INFO(setting.hostName << ": shown " << shown << " of its range, set to " << set);
                CHECK(setting.least + shown * (setting.most - setting.least) == Approx(set).margin(1e-3));
            }
        const auto late = session.host(plugin, {"--offline", "--preset", "Late spot"}).said;
        INFO(late["state"]);
        CHECK(late["state"]["settings"]["lookAhead"].get<double>() > 0.0);
        CHECK(late["latency_samples"].get<double>() > 0.0);
    }
}

TEST_CASE("the A/B in the middle of a stream: as recorded after the fade, bit for bit, and no step in between")
{
    const Session session({.seed = 58, .hits = 2, .spotChannels = 2, .roomChannels = 2});
    // A slow sine shows any click: its own steepest step is known.
    Audio sine{48000.0, {std::vector<float>(96000)}};
    for (std::size_t k = 0; k < sine.frames(); ++k)
        sine.channels[0][k] =
            static_cast<float>(0.5 * std::sin(2.0 * 3.14159265358979 * 100.0 * static_cast<double>(k) / 48000.0));
    sine.channels.push_back(sine.channels[0]);
    writeAudio(session.file("spot.wav"), sine);
    for (const auto& plugin : bundles)
    {
        const auto played = session.host(plugin, {"--pace", "0", "--block", "100", "--merge-state",
                                                  frozenState(0.0123, "inverted"), "--at", "1:aligned=off"});
        const auto& out = played.out.channels[0];
        float steepest = 0.0F;
        for (std::size_t k = 40000; k < 60000; ++k) steepest = std::max(steepest, std::abs(out[k] - out[k - 1]));
        // The sine's own 2 pi f A / rate, and a fade of 15 ms between opposite extremes: at most pi / 2 / 720 a sample.
        const double limit = 2.0 * 3.14159265358979 * 100.0 * 0.5 / 48000.0 + 3.14159265358979 / 2.0 / 720.0;
        INFO(plugin << ": steepest step " << steepest << ", limit " << limit);
        CHECK(static_cast<double>(steepest) < limit);
        int different = 0;
        for (std::size_t k = 50000; k < 96000; ++k)
            if (out[k] != sine.channels[0][k]) ++different;
        CHECK(different == 0);
    }
}

TEST_CASE("the host says in one line what is wrong, and which")
{
    const Session session({.seed = 59, .hits = 1});
    const auto fails = [&](std::vector<std::string> arguments, const std::string& named)
    {
        arguments.insert(arguments.begin(), TARRY_HOST);
        const auto result = runProgram(arguments);
        INFO(result.errors);
        CHECK(result.status == 2);
        CHECK(result.errors.find(named) != std::string::npos);
        CHECK(std::count(result.errors.begin(), result.errors.end(), '\n') == 1);
    };
    const auto spot = session.file("spot.wav");
    fails({"--plugin", "/nowhere/X.vst3", "--spot", spot}, "/nowhere/X.vst3");
    fails({"--plugin", TARRY_VST3, "--spot", "/nowhere.wav"}, "/nowhere.wav");
    fails({"--plugin", TARRY_VST3, "--spot", spot, "--set", "nonsense=1"}, "nonsense");
    fails({"--plugin", TARRY_LV2, "--spot", spot, "--load-state", "/nowhere"}, "/nowhere");
}
