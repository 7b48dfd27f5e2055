#include "Loudness/Loudness.h"
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
/// A loop that plays on, with its worker beside it.
struct Loop
{
    Recording recording;
    Engine engine;
    Controls controls;
    std::size_t position = 0;

    std::vector<float> play(double seconds)
    {
        std::vector<float> heard;
        for (auto left = static_cast<std::size_t>(seconds * recording.sampleRate); left > 0;)
        {
            const auto n = std::min({left, std::size_t{256}, recording.frames() - position});
            std::vector<float> part(recording.spot[0].begin() + static_cast<std::ptrdiff_t>(position),
                                    recording.spot[0].begin() + static_cast<std::ptrdiff_t>(position + n));
            float* spot[1] = {part.data()};
            const float* room[1] = {recording.room[0].data() + position};
            engine.process(spot, room, static_cast<int>(n), controls, false);
            engine.work(controls);
            heard.insert(heard.end(), part.begin(), part.end());
            position = (position + n) % recording.frames();
            left -= n;
        }
        return heard;
    }
    /// LUFS of whole turns from the loop's beginning, past the switch: the same stretch for every side.
    double loudness()
    {
        const double turn = static_cast<double>(recording.frames()) / recording.sampleRate;
        play(1.0);
        play(turn - static_cast<double>(position) / recording.sampleRate);
        return *integratedLoudness({play(10.0 * turn)}, recording.sampleRate);
    }
};
} // namespace

TEST_CASE("level-matched A/B: both sides within 0.1 LU, between as recorded and aligned and between two lags")
{
    const bool twoLags = GENERATE(false, true);
    Loop loop{.recording = makeRecording({.seed = 23, .lag = 0.01, .hits = 8}), .engine = {}, .controls = {}};
    // No multiple of 0.1 s, the step of the loudness's gate, so that its phase goes round and favours no side.
    for (auto* track : {&loop.recording.spot[0], &loop.recording.room[0]}) track->resize(track->size() - 1637);
    loop.controls.blend = true;
    loop.controls.blendGain = 10.0;
    loop.controls.freezeWhenSettled = true;
    loop.controls.compareLags = twoLags;
    loop.engine.setSetup({.watch = false});
    loop.engine.prepare({48000.0, 1, 1}, loop.controls);
    loop.play(5.0);
    REQUIRE(loop.engine.phase() == Phase::frozen);
    if (twoLags) loop.engine.setLagByHand(0.0125);

    const auto difference = [&]
    {
        loop.controls.aligned = true;
        const double aligned = loop.loudness();
        loop.controls.aligned = false;
        return aligned - loop.loudness();
    };
    const double plain = difference();
    loop.controls.levelMatched = true;
    loop.play(80.0); // begins after 10 s of sound, and is finer the longer it has listened
    REQUIRE(loop.engine.blind().isMatched());
    const double matched = difference();
    INFO("aligned less the other side: " << plain << " LU as they are, matched " << matched << " LU, limit 0.1");
    CHECK(std::abs(plain) > 0.2);
    CHECK(std::abs(matched) < 0.1);

    loop.controls.levelMatched = false;
    CHECK(difference() == Approx(plain).margin(0.02)); // off, it is as it was
    CHECK_FALSE(loop.engine.blind().isRunning());
}
