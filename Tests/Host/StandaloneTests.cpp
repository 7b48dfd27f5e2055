#include <cmath>
// The standalone's program on a machine without a screen. PrintCommandTests and the demo have the files' side of it.
#include "Host/AudioFile.h"
#include "Plugin/Recording.h"
#include "Support/Catch.h"
#include "Support/Process.h"

#include <algorithm>
#include <cstdlib>

using namespace tarry::test;

namespace
{
ProcessResult withoutScreen(std::vector<std::string> arguments)
{
    arguments.insert(arguments.begin(), {"/usr/bin/env", "-u", "DISPLAY", "-u", "WAYLAND_DISPLAY", TARRY_STANDALONE});
    return runProgram(arguments);
}
} // namespace

TEST_CASE("the standalone without a screen: one line that says what to do, and status 2")
{
    for (const auto& arguments : {std::vector<std::string>{}, std::vector<std::string>{"--silent"}})
    {
        const auto result = withoutScreen(arguments);
        INFO(result.errors << result.output);
        CHECK(result.status == 2);
        CHECK(result.errors.find("no screen") != std::string::npos);
        CHECK(std::count(result.errors.begin(), result.errors.end(), '\n') == 1);
    }
}

TEST_CASE("the standalone with --silent and two files needs no screen")
{
    const TemporaryFolder folder;
    ::setenv("HOME", folder.path().c_str(), 1); // its settings
    const auto recording = makeRecording({.seed = 71, .lag = 0.031, .hits = 8});
    tarry::host::writeAudio((folder / "spot.wav").string(), {recording.sampleRate, recording.spot});
    tarry::host::writeAudio((folder / "room.wav").string(), {recording.sampleRate, recording.room});
    const auto result = withoutScreen({"--silent", (folder / "spot.wav").string(), (folder / "room.wav").string()});
    INFO(result.errors << result.output);
    CHECK(result.status == 0);
    CHECK(result.output.find("Tarry recall 1:") == 0);
    const auto lag = result.output.find("lag=");
    REQUIRE(lag != std::string::npos);
    CHECK(std::abs(std::stod(result.output.substr(lag + 4)) - 31.0) < 0.1);
    const auto missing = withoutScreen({"--silent", (folder / "none.wav").string(), (folder / "room.wav").string()});
    INFO(missing.errors << missing.output);
    CHECK(missing.status == 2);
    CHECK(missing.errors.find("none.wav") != std::string::npos);
}
