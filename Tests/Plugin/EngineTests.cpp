#include "Plugin/Engine.h"

#include "Core/Report/BlendFigures.h"
#include "Plugin/Recording.h"
#include "Support/Catch.h"

#include <algorithm>
#include <cmath>
#include <cstring>
#include <limits>

using namespace tarry;
using tarry::test::makeRecording;
using tarry::test::Recording;

namespace
{
using Tracks = std::vector<std::vector<float>>;

/// Drives an engine through a recording, block by block, offline unless told otherwise.
Tracks run(Engine& engine, const Recording& recording, const Controls& controls, const std::vector<int>& blocks,
           bool offline = true)
{
    Tracks out = recording.spot;
    std::size_t turn = 0;
    for (std::size_t at = 0; at < recording.frames();)
    {
        const auto n = std::min(static_cast<std::size_t>(blocks[turn++ % blocks.size()]), recording.frames() - at);
        float* spot[2] = {};
        const float* room[8] = {};
        for (std::size_t i = 0; i < out.size(); ++i) spot[i] = out[i].data() + at;
        for (std::size_t i = 0; i < recording.room.size(); ++i) room[i] = recording.room[i].data() + at;
        engine.process(spot, room, static_cast<int>(n), controls, offline);
        if (!offline) engine.work(controls);
        at += n;
    }
    return out;
}

Streams shapeOf(const Recording& recording)
{
    return {recording.sampleRate, static_cast<int>(recording.spot.size()), static_cast<int>(recording.room.size())};
}

void hold(Engine& engine, double lag, Polarity polarity = Polarity::normal)
{
    engine.setByHand(Sides::both({lag, polarity}));
}

/// How many samples differ between `out` and the spot moved by `shift` samples (and turned over).
int differences(const std::vector<float>& out, const std::vector<float>& spot, int shift, float sign = 1.0F)
{
    int count = 0;
    for (int k = 0; k < static_cast<int>(out.size()); ++k)
    {
        const int from = k - shift;
        const bool inside = from >= 0 && from < static_cast<int>(spot.size());
        const float expected = inside ? sign * spot[static_cast<std::size_t>(from)] : 0.0F;
        if (out[static_cast<std::size_t>(k)] != expected) ++count;
    }
    return count;
}

bool sameReport(const Report& a, const Report& b)
{
    const bool figures = a.lag == b.lag && a.polarity == b.polarity && a.confidence == b.confidence &&
                         a.verdict == b.verdict && a.hitsFound == b.hitsFound && a.hitsUsed == b.hitsUsed &&
                         a.hitsAgreeing == b.hitsAgreeing && a.reasons == b.reasons && a.hits.size() == b.hits.size();
    return figures && std::equal(a.hits.begin(), a.hits.end(), b.hits.begin(),
                                 [](const auto& x, const auto& y)
                                 { return x.time == y.time && x.lag == y.lag && x.used == y.used; });
}
} // namespace

TEST_CASE("an offline render never depends on the size of its blocks, and is the same twice")
{
    const auto recording = makeRecording({.seed = 11, .hits = 8});
    Controls controls;
    controls.freezeWhenSettled = GENERATE(true, false);
    const bool held = GENERATE(true, false);

    const auto begin = [&](Engine& engine)
    {
        if (held) hold(engine, 0.0125);
        if (held) engine.measure();
        engine.prepare(shapeOf(recording), controls);
    };
    Engine reference;
    begin(reference);
    const auto expected = run(reference, recording, controls, {512});
    REQUIRE(reference.report().hitsFound > 0);
    // What was held at the start, from the first sample to the last; what was measured is offered afterwards.
    CHECK(differences(expected[0], recording.spot[0], held ? 600 : 0) == 0);
    REQUIRE(reference.offer().has_value());
    CHECK(reference.offer()->why == Offer::Why::rendered);
    CHECK(std::abs(reference.offer()->sides.side[0].lag - 0.031) < 0.0005);
    CHECK(reference.held().has_value() == held);
    CHECK(reference.renderedUnsettled());

    for (const auto& blocks : std::vector<std::vector<int>>{{512}, {1}, {7, 64, 1000}, {8192}, {1 << 20}})
    {
        Engine engine;
        begin(engine);
        const auto out = run(engine, recording, controls, blocks);
        INFO("blocks of " << blocks.front());
        CHECK(out == expected);
        CHECK(sameReport(engine.report(), reference.report()));
        CHECK(engine.held() == reference.held());
        CHECK(engine.offer()->sides == reference.offer()->sides);
        CHECK(engine.phase() == reference.phase());
    }
    CHECK(reference.takeOffer());
    CHECK_FALSE(reference.renderedUnsettled());
    const int lag = static_cast<int>(std::lround(reference.held()->side[0].lag * 48000.0));
    controls.wholeSamples = true;
    reference.prepare(shapeOf(recording), controls);
    CHECK(differences(run(reference, recording, controls, {512})[0], recording.spot[0], lag) == 0);
}

TEST_CASE("measures until settled, applies what it found, freezes")
{
    const double rate = GENERATE(44100.0, 48000.0, 96000.0);
    const auto polarity = GENERATE(Polarity::normal, Polarity::inverted);
    const auto recording =
        makeRecording({.seed = 3, .sampleRate = rate, .lag = 0.031, .polarity = polarity, .hits = 12});
    Engine engine;
    engine.prepare(shapeOf(recording), {});
    CHECK(engine.phase() == Phase::measuring);
    run(engine, recording, {}, {256}, false);
    const auto report = engine.report();
    INFO("rate " << rate << ", lag " << report.lag.value_or(-1.0) << " s, confidence " << report.confidence << ", "
                 << report.hitsAgreeing << " of " << report.hitsFound << " hits agree");
    REQUIRE(engine.phase() == Phase::frozen);
    REQUIRE(engine.held().has_value());
    const double truth = std::round(0.031 * rate) / rate;
    INFO("held " << engine.held()->side[0].lag << " s, truth " << truth << " s, limit 0.5 ms");
    CHECK(std::abs(engine.held()->side[0].lag - truth) < 0.0005);
    CHECK(engine.held()->side[0].polarity == polarity);
    CHECK(engine.heardSamples(0) == Approx(engine.held()->side[0].lag * rate).margin(0.51));

    const auto before = engine.held();
    engine.measure();
    CHECK(engine.phase() == Phase::measuring);
    CHECK(engine.held() == before); // nothing lost by measuring again
    CHECK(engine.heardSamples(0) > 1.0);
}

TEST_CASE("as recorded is the input bit for bit, whatever is held; so is bypass; look-ahead apart")
{
    const auto recording = makeRecording({.seed = 5, .hits = 2, .spotChannels = 2});
    const double lookAhead = GENERATE(0.0, 0.01);
    const bool bypass = GENERATE(true, false);
    Engine engine;
    engine.setSetup({.lookAhead = lookAhead});
    hold(engine, 0.031084, Polarity::inverted);
    Controls controls;
    controls.lean = 0.008;
    controls.aligned = bypass;
    controls.bypassed = bypass;
    controls.blend = bypass; // a bypassed insert adds no room
    engine.prepare(shapeOf(recording), controls);
    CHECK(engine.latencySamples() == static_cast<int>(std::lround(lookAhead * 48000.0)));
    const auto out = run(engine, recording, controls, {100}, false);
    for (std::size_t i = 0; i < out.size(); ++i)
        CHECK(differences(out[i], recording.spot[i], engine.latencySamples()) == 0);
}

TEST_CASE("a held lag delays from the very first sample, with lean and look-ahead")
{
    const auto recording = makeRecording({.seed = 6, .hits = 2});
    Engine engine;
    Controls controls;

    SECTION("whole samples pass bit for bit, turned over")
    {
        hold(engine, 0.01, Polarity::inverted); // 480 samples
        engine.prepare(shapeOf(recording), controls);
        CHECK(differences(run(engine, recording, controls, {100}, false)[0], recording.spot[0], 480, -1.0F) == 0);
    }
    SECTION("lean comes on top: 8 ms behind")
    {
        hold(engine, 0.01);
        controls.lean = 0.008;
        engine.prepare(shapeOf(recording), controls);
        CHECK(differences(run(engine, recording, controls, {100}, false)[0], recording.spot[0], 864) == 0);
        CHECK(engine.heardSamples(0) == 864.0);
    }
    SECTION("the whole-samples switch rounds")
    {
        hold(engine, 0.0100052); // 480.25 samples
        controls.wholeSamples = true;
        engine.prepare(shapeOf(recording), controls);
        CHECK(differences(run(engine, recording, controls, {100}, false)[0], recording.spot[0], 480) == 0);
    }
    SECTION("with look-ahead a spot can move earlier")
    {
        engine.setSetup({.lookAhead = 0.02});
        hold(engine, -0.01);
        engine.prepare(shapeOf(recording), controls);
        CHECK(differences(run(engine, recording, controls, {100}, false)[0], recording.spot[0], 960 - 480) == 0);
        CHECK(engine.heardSamples(0) == -480.0);
    }
    SECTION("nothing held: nothing moves, lean or not")
    {
        controls.lean = 0.008;
        engine.prepare(shapeOf(recording), controls);
        engine.freeze(controls);
        CHECK(differences(run(engine, recording, controls, {100}, false)[0], recording.spot[0], 0) == 0);
    }
}

TEST_CASE("a frozen lag lives in seconds: it survives another sample rate")
{
    Engine engine;
    hold(engine, 0.0125);
    for (const double rate : {44100.0, 48000.0, 96000.0, 192000.0})
    {
        const auto recording = makeRecording({.seed = 8, .sampleRate = rate, .hits = 1});
        engine.prepare(shapeOf(recording), {});
        run(engine, recording, {}, {333}, false);
        INFO("at " << rate << " Hz");
        CHECK(engine.heardSamples(0) == Approx(0.0125 * rate).epsilon(1.0e-12));
    }
}

TEST_CASE("the lag is between the signals as recorded, also where the host delivers the room late by the look-ahead")
{
    const auto plain = makeRecording({.seed = 21, .lag = 0.02, .hits = 10});
    const bool late = GENERATE(false, true);
    const int lookAhead = 960; // samples
    auto delivered = plain;
    if (late)
    {
        auto& room = delivered.room[0];
        std::rotate(room.rbegin(), room.rbegin() + lookAhead, room.rend());
        std::fill(room.begin(), room.begin() + lookAhead, 0.0F);
    }
    Engine engine;
    engine.setSetup({.lookAhead = lookAhead / 48000.0, .roomArrivesLate = late});
    engine.prepare(shapeOf(delivered), {});
    run(engine, delivered, {}, {512}, false);
    const auto report = engine.report();
    REQUIRE(report.lag.has_value());
    INFO("late " << late << ": lag " << *report.lag << " s, truth 0.02 s, limit 0.5 ms");
    CHECK(std::abs(*report.lag - 0.02) < 0.0005);

    // And the room lies where the spot does in the blend: their difference is the recording's own.
    Engine blending;
    blending.setSetup({.lookAhead = lookAhead / 48000.0, .roomArrivesLate = late});
    Controls controls;
    controls.aligned = false;
    controls.blend = true;
    blending.prepare(shapeOf(delivered), controls);
    const auto out = run(blending, delivered, controls, {512}, false)[0];
    double worst = 0.0;
    for (std::size_t k = 4000; k + lookAhead < out.size(); ++k)
        worst = std::max(worst, std::abs(static_cast<double>(out[k + lookAhead]) -
                                         static_cast<double>(plain.spot[0][k] + plain.room[0][k])));
    INFO("largest difference " << worst << ", limit 1e-6");
    CHECK(worst < 1.0e-6);
}

TEST_CASE("told that the room does not arrive late after all, the engine measures anew: no hit of before counts")
{
    const auto recording = makeRecording({.seed = 22, .lag = 0.03, .hits = 10});
    const bool offline = GENERATE(true, false);
    Controls controls;
    controls.freezeWhenSettled = false;
    Engine engine;
    engine.setSetup({.lookAhead = 0.02, .roomArrivesLate = true});
    engine.prepare(shapeOf(recording), controls);
    run(engine, recording, controls, {512}, offline);
    REQUIRE(engine.report().lag.has_value());
    REQUIRE(std::abs(*engine.report().lag - 0.01) < 0.0005); // the spot was held back for nothing
    const int before = engine.report().hitsFound;

    engine.setSetup({.lookAhead = 0.02, .roomArrivesLate = false});
    run(engine, recording, controls, {512}, offline);
    const auto report = engine.report();
    REQUIRE(report.lag.has_value());
    INFO("lag " << *report.lag << " s, truth 0.03 s, limit 0.5 ms; hits " << before << ", then " << report.hitsFound);
    CHECK(std::abs(*report.lag - 0.03) < 0.0005);
    CHECK(report.hitsFound <= before);
}

TEST_CASE("the blend is for judging: never in an offline render, and it comes and goes without a click")
{
    const auto recording = makeRecording({.seed = 9, .hits = 2, .spotChannels = 2});
    Controls controls;
    controls.aligned = false;
    controls.blend = true;
    controls.blendGain = 2.0;

    Engine offline;
    offline.prepare(shapeOf(recording), controls);
    CHECK(run(offline, recording, controls, {512}) == recording.spot);

    // A constant room makes the fade itself visible: no step larger than the fade's own.
    Recording constant{48000.0, {std::vector<float>(4800, 0.0F)}, {std::vector<float>(4800, 1.0F)}};
    Engine engine;
    Controls off = controls;
    off.blend = false;
    engine.prepare(shapeOf(constant), off);
    run(engine, constant, off, {480}, false);
    const auto rise = run(engine, constant, controls, {480}, false)[0];
    float steepest = 0.0F;
    for (std::size_t k = 1; k < rise.size(); ++k) steepest = std::max(steepest, std::abs(rise[k] - rise[k - 1]));
    const float limit = 2.0F * 1.5708F / 480.0F * 1.001F; // half a cosine from 0 to 2 in 10 ms
    INFO("steepest step " << steepest << ", limit " << limit);
    CHECK(steepest < limit);
    CHECK(rise.back() == Approx(2.0F));
}

TEST_CASE("samples that are not finite pass as silence and poison nothing")
{
    auto recording = makeRecording({.seed = 10, .hits = 6});
    const float bad[] = {std::numeric_limits<float>::quiet_NaN(), std::numeric_limits<float>::infinity()};
    for (std::size_t k = 100; k < recording.frames(); k += 9973)
    {
        recording.spot[0][k] = bad[k % 2];
        recording.room[0][(k * 7) % recording.frames()] = bad[(k + 1) % 2];
    }
    Engine engine;
    hold(engine, 0.0100052);
    Controls controls;
    controls.blend = true;
    engine.prepare(shapeOf(recording), controls);
    engine.measure();
    const auto out = run(engine, recording, controls, {512}, false)[0];
    CHECK(std::all_of(out.begin(), out.end(), [](float x) { return std::isfinite(x); }));
    const auto report = engine.report();
    CHECK(std::isfinite(report.lag.value_or(0.0)));
    CHECK(std::isfinite(report.confidence));
}

TEST_CASE("no room, or the same signal twice: said, and nothing new is applied")
{
    auto recording = makeRecording({.seed = 12, .hits = 8});
    Engine engine;
    hold(engine, 0.0125);
    engine.measure();
    const auto before = engine.held();
    auto expected = InputState::good;
    SECTION("the room is not connected")
    {
        recording.room.clear();
        expected = InputState::noRoom;
    }
    SECTION("the room is silent")
    {
        std::fill(recording.room[0].begin(), recording.room[0].end(), 0.0F);
        expected = InputState::noRoom;
    }
    SECTION("both are the same signal")
    {
        recording.room[0] = recording.spot[0];
        expected = InputState::sameSignal;
    }
    SECTION("the room is the spot itself, later: a host's own output came back")
    {
        recording.room[0] = recording.spot[0];
        std::rotate(recording.room[0].rbegin(), recording.room[0].rbegin() + 1200, recording.room[0].rend());
        expected = InputState::ownSignal;
    }
    SECTION("both are the same signal but for level")
    {
        for (std::size_t k = 0; k < recording.frames(); ++k) recording.room[0][k] = 0.25F * recording.spot[0][k];
        expected = InputState::sameSignal;
    }
    engine.prepare(shapeOf(recording), {});
    run(engine, recording, {}, {512});
    CHECK(engine.report().input == expected);
    CHECK_FALSE(engine.report().reasons.empty());
    CHECK(engine.phase() == Phase::measuring);
    CHECK(engine.held() == before);
}

TEST_CASE("wishes from automation: freeze, measure, and each again without effect")
{
    const auto recording = makeRecording({.seed = 13, .hits = 1});
    Engine engine;
    hold(engine, 0.02);
    engine.prepare(shapeOf(recording), {});
    const auto heed = [&] { engine.work({}); };
    engine.requestMeasuring(true);
    heed();
    CHECK(engine.phase() == Phase::measuring);
    engine.requestMeasuring(true);
    heed();
    CHECK(engine.phase() == Phase::measuring);
    engine.requestMeasuring(false);
    heed();
    CHECK(engine.phase() == Phase::frozen);
    CHECK(engine.held()->side[0].lag == 0.02);
}

TEST_CASE("a sample rate that cannot be measured is said, and the spot is delayed all the same")
{
    auto recording = makeRecording({.seed = 14, .sampleRate = 4000.0, .hits = 2});
    Engine engine;
    hold(engine, 0.02);
    engine.measure();
    engine.prepare(shapeOf(recording), {});
    const auto out = run(engine, recording, {}, {512});
    CHECK(engine.report().hitsFound == 0);
    REQUIRE_FALSE(engine.report().reasons.empty());
    CHECK(engine.report().reasons[0].find("sample rate") != std::string::npos);
    CHECK(differences(out[0], recording.spot[0], 80) == 0);
}

TEST_CASE("lags by hand are kept in range, whole nanoseconds, and nudges add up")
{
    Engine engine;
    engine.prepare({}, {});
    engine.setLagByHand(5.0);
    CHECK(engine.held()->side[0].lag == Engine::maxLagByHand);
    engine.setLagByHand(std::numeric_limits<double>::quiet_NaN());
    CHECK(engine.held()->side[0].lag == 0.0);
    for (int i = 0; i < 100; ++i) engine.nudge(0.00001);
    CHECK(engine.held()->side[0].lag == 0.001);
    engine.nudgeSamples(-48);
    CHECK(engine.held()->side[0].lag == 0.0);
    engine.setPolarity(Polarity::inverted);
    CHECK(engine.held()->side[1].polarity == Polarity::inverted);
    CHECK(engine.byHand());
    CHECK(engine.undoWords() == "polarity by hand");
    CHECK(engine.undo());
    CHECK(engine.held()->side[1].polarity == Polarity::normal);
    CHECK(engine.undoWords() == "the lag by hand");
    CHECK(lagLimitWords(0.9) == "The longest is 200 ms.");
    CHECK(lagLimitWords(-0.9).find("100 ms") != std::string::npos);
    CHECK(lagLimitWords(0.2).empty());
}

TEST_CASE("what is told beside a lag by hand is the measured one's, and a new measuring does not hide it")
{
    const auto recording = makeRecording({.seed = 15, .hits = 8});
    Engine engine;
    engine.prepare(shapeOf(recording), {});
    run(engine, recording, {}, {512}, false);
    REQUIRE(engine.phase() == Phase::frozen);
    const auto told = engine.report();
    REQUIRE(told.lag.has_value());
    engine.setLagByHand(0.05);
    CHECK(engine.byHand());
    CHECK(sameReport(engine.report(), told));
    // And the figures are of what is applied now, worked out from the kept hits.
    for (const double lag : {0.05, 0.02, *told.lag})
    {
        engine.setLagByHand(lag, true);
        const auto figures = blendAt(engine.report(), 0, leaned(engine.held()->side[0], 0.004));
        REQUIRE(figures.has_value());
        CHECK(figures->flamAfter == Approx(std::abs(*told.lag - lag - 0.004)).margin(1.0e-9));
    }
    engine.setLagByHand(0.05);
    CHECK(engine.apply({})); // back to the measured one
    CHECK(std::abs(engine.held()->side[0].lag - *told.lag) < 1.0e-9);
    engine.measure();
    engine.work({});
    CHECK(sameReport(engine.report(), told)); // not 'no hit was found'
}

TEST_CASE("a loop of one hit is one hit: it neither settles nor freezes")
{
    auto recording = makeRecording({.seed = 16, .hits = 1});
    const auto once = recording;
    for (int turn = 0; turn < 7; ++turn)
    {
        recording.spot[0].insert(recording.spot[0].end(), once.spot[0].begin(), once.spot[0].end());
        recording.room[0].insert(recording.room[0].end(), once.room[0].begin(), once.room[0].end());
    }
    Engine engine;
    engine.prepare(shapeOf(recording), {});
    run(engine, recording, {}, {512}, false);
    const auto report = engine.report();
    INFO(report.hitsAgreeing << " of " << report.hitsFound << " agree, confidence " << report.confidence);
    CHECK(engine.phase() == Phase::measuring);
    CHECK_FALSE(engine.held().has_value());
    CHECK(engine.freezePlan({}).does == Follow::FreezePlan::Does::staysAsRecorded);
}

TEST_CASE("watch: a frozen lag on another setup is told within some hits, and stays; off, nothing is measured")
{
    const bool on = GENERATE(true, false);
    const auto moved = makeRecording({.seed = 17, .lag = 0.025, .hits = 9});
    Engine engine;
    engine.setSetup({.watch = on});
    hold(engine, 0.031);
    engine.prepare(shapeOf(moved), {});
    run(engine, moved, {}, {512}, false);
    CHECK(engine.phase() == Phase::frozen);
    CHECK(engine.held()->side[0].lag == 0.031);
    CHECK(engine.offer().has_value() == on);
    if (!on) return;
    CHECK(engine.offer()->why == Offer::Why::watched);
    CHECK(std::abs(engine.offer()->sides.side[0].lag - 0.025) < 0.0005);
    CHECK(engine.takeOffer());
    CHECK(std::abs(engine.held()->side[0].lag - 0.025) < 0.0005);
    engine.prepare(shapeOf(moved), {});
    run(engine, moved, {}, {512}, false);
    CHECK_FALSE(engine.offer().has_value());
}

TEST_CASE("locked, nothing is measured and nothing changes, by its switch or while the host records")
{
    const auto recording = makeRecording({.seed = 18, .hits = 8});
    const bool byHost = GENERATE(false, true);
    Engine engine;
    engine.setSetup({.lockWhileRecording = byHost});
    hold(engine, 0.0125);
    engine.measure();
    Controls controls;
    controls.lock = !byHost;
    engine.setHostRecords(true);
    engine.prepare(shapeOf(recording), controls);
    float silence[512] = {}, *spot[1] = {silence};
    const float* room[1] = {silence};
    engine.process(spot, room, 512, controls, false);
    REQUIRE(engine.locked());
    CHECK_FALSE(engine.setLagByHand(0.03));
    CHECK_FALSE(engine.freeze(controls));
    CHECK_FALSE(engine.measure());
    CHECK_FALSE(engine.undo().has_value());
    controls.lean = 0.01; // turned while locked: not heard
    controls.aligned = false;
    const auto out = run(engine, recording, controls, {512}, false);
    CHECK(differences(out[0], recording.spot[0], 600) == 0);
    CHECK(engine.report().hitsFound == 0);
    CHECK(engine.held()->side[0].lag == 0.0125);
    controls.lock = false;
    engine.setHostRecords(false);
    run(engine, recording, controls, {512}, false);
    CHECK_FALSE(engine.locked());
    CHECK(engine.report().hitsFound > 0);
    CHECK(engine.setLagByHand(0.03));
}

TEST_CASE("the A/B between two lags: as recorded gives way to the measured one beside a lag by hand")
{
    const auto recording = makeRecording({.seed = 19, .hits = 8});
    Engine engine;
    engine.prepare(shapeOf(recording), {});
    run(engine, recording, {}, {512}, false);
    REQUIRE(engine.phase() == Phase::frozen);
    const double measured = engine.held()->side[0].lag;
    engine.setLagByHand(0.04);
    Controls controls;
    controls.aligned = false;
    controls.compareLags = true;
    run(engine, recording, controls, {512}, false);
    CHECK(engine.heardSamples(0) == Approx(measured * 48000.0).margin(0.01));
    run(engine, recording, controls, {512}, true); // a print is as recorded
    CHECK(engine.heardSamples(0) == 0.0);
}

TEST_CASE("a room of many channels is measured, and blended by its first two")
{
    auto recording = makeRecording({.seed = 20, .lag = 0.031, .hits = 8, .roomChannels = 3});
    auto& third = recording.room[2]; // 3 ms nearer
    std::rotate(third.begin(), third.begin() + 144, third.end());
    Controls controls;
    controls.roomChannel = 2;
    Engine engine;
    engine.prepare(shapeOf(recording), controls);
    run(engine, recording, controls, {512}, false);
    REQUIRE(engine.held().has_value());
    INFO("held " << 1e3 * engine.held()->side[0].lag << " ms, truth 28 ms");
    CHECK(std::abs(engine.held()->side[0].lag - 0.028) < 0.0005);
}
