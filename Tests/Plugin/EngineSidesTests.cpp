#include "Plugin/Engine.h"
#include "Plugin/Recording.h"
#include "Support/Catch.h"

#include <algorithm>
#include <cmath>

using namespace tarry;
using tarry::test::makeRecording;
using tarry::test::Recording;

namespace
{
/// The same track later by whole samples.
std::vector<float> later(const std::vector<float>& track, int samples)
{
    std::vector<float> moved(track.size());
    std::copy(track.begin(), track.end() - samples, moved.begin() + samples);
    return moved;
}

/// Plays a recording in real time's way, but at once, and returns what came out.
std::vector<std::vector<float>> play(Engine& engine, const Recording& recording, const Controls& controls)
{
    engine.prepare(
        {recording.sampleRate, static_cast<int>(recording.spot.size()), static_cast<int>(recording.room.size())},
        controls);
    auto out = recording.spot;
    for (std::size_t at = 0; at < recording.frames(); at += 512)
    {
        std::vector<float*> spot;
        std::vector<const float*> room;
        for (auto& track : out) spot.push_back(track.data() + at);
        for (const auto& track : recording.room) room.push_back(track.data() + at);
        const auto left = std::min<std::size_t>(512, recording.frames() - at);
        engine.process(spot.data(), room.data(), static_cast<int>(left), controls, false);
        engine.work(controls);
    }
    return out;
}

void checkLag(const Engine& engine, std::size_t side, double truth)
{
    REQUIRE(engine.held().has_value());
    const double lag = engine.held()->side[side].lag;
    INFO("side " << side << ": held " << 1e3 * lag << " ms, truth " << 1e3 * truth << " ms, limit 0.5 ms");
    CHECK(std::abs(lag - truth) < 0.0005);
}
} // namespace

TEST_CASE("each side of a stereo spot by its own lag, or both by one")
{
    auto recording = makeRecording({.seed = 61, .lag = 0.031, .hits = 10});
    recording.spot.push_back(later(recording.spot[0], 144)); // 3 ms nearer to the room
    Controls controls;
    controls.eachSide = true;
    Engine each;
    play(each, recording, controls);
    REQUIRE(each.phase() == Phase::frozen);
    checkLag(each, 0, 0.031);
    checkLag(each, 1, 0.028);
    CHECK(each.heardSamples(0) - each.heardSamples(1) == Approx(144.0).margin(24.0));

    Engine together;
    play(together, recording, {});
    REQUIRE(together.phase() == Phase::frozen);
    CHECK(together.held()->side[0] == together.held()->side[1]); // the image stays as it was recorded
}

TEST_CASE("room channel: the one that is asked for, or the first arrival")
{
    auto recording = makeRecording({.seed = 62, .lag = 0.031, .hits = 10});
    recording.room.insert(recording.room.begin(), later(recording.room[0], 240)); // left hears it 5 ms after right
    for (const auto& [channel, truth] : {std::pair{0, 0.036}, std::pair{1, 0.031}, std::pair{-1, 0.031}})
    {
        Controls controls;
        controls.roomChannel = channel;
        Engine engine;
        play(engine, recording, controls);
        INFO("room channel " << channel);
        REQUIRE(engine.phase() == Phase::frozen);
        checkLag(engine, 0, truth);
    }
}

TEST_CASE("reach: a lag beyond it is not found, and nothing is applied")
{
    const auto recording = makeRecording({.seed = 63, .lag = 0.031, .hits = 10});
    Controls controls;
    controls.reach = 0.020;
    Engine engine;
    play(engine, recording, controls);
    CHECK_FALSE(engine.phase() == Phase::frozen);
    const auto lag = engine.report().lag;
    INFO("lag " << lag.value_or(-1.0) << " s, reach " << controls.reach);
    CHECK((!lag || *lag <= controls.reach));
}

TEST_CASE("whole samples: the spot passes bit for bit, moved by the nearest whole sample")
{
    const auto recording = makeRecording({.seed = 64, .hits = 2, .spotChannels = 2});
    Controls controls;
    controls.wholeSamples = true;
    controls.lean = 0.00213;
    Engine engine;
    engine.setByHand(Sides::both({0.0310841, Polarity::inverted}));
    const auto out = play(engine, recording, controls);
    const auto shift = static_cast<std::size_t>(std::lround((0.0310841 + 0.00213) * 48000.0));
    for (std::size_t side = 0; side < 2; ++side)
    {
        int different = 0;
        for (std::size_t k = 0; k < out[side].size(); ++k)
            if (out[side][k] != (k < shift ? 0.0F : -recording.spot[side][k - shift])) ++different;
        INFO("side " << side << ": samples that differ " << different);
        CHECK(different == 0);
    }
}

TEST_CASE("one clap settles it where one clap is said to be enough, and not otherwise")
{
    const auto recording = makeRecording({.seed = 65, .hits = 1});
    for (const bool clap : {true, false})
    {
        Controls controls;
        controls.clap = clap;
        Engine engine;
        play(engine, recording, controls);
        INFO("clap " << clap << ", confidence " << engine.report().confidence << ", hits "
                     << engine.report().hitsFound);
        CHECK((engine.phase() == Phase::frozen) == clap);
        if (clap) checkLag(engine, 0, 0.031);
    }
}
