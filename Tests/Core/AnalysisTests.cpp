#include "Core/Analysis.h"

#include "Core/Heard.h"
#include "Support/Catch.h"

#include <cmath>

using namespace tarry;
using namespace tarry::test;

namespace
{
Strokes eight(unsigned seed)
{
    Strokes strokes;
    strokes.times = evenTimes(8, 0.3, 0.45);
    strokes.seed = seed;
    return strokes;
}

std::string said(const Report& report)
{
    std::string text = "lag " + (report.lag ? std::to_string(*report.lag * 1e3) + " ms" : std::string("none")) +
                       ", confidence " + std::to_string(report.confidence) + ":";
    for (const std::string& reason : report.reasons) text.append(" ").append(reason);
    return text;
}

bool mentions(const Report& report, const std::string& words)
{
    return said(report).find(words) != std::string::npos;
}

/// The lag that was found, or something no limit allows.
double lagOf(const Report& report)
{
    return report.lag.value_or(1e9);
}

hall::Scene sceneOf(const std::string& name, unsigned seed, double rate = 48000.0, int roomChannels = 1, int hits = 8)
{
    hall::SceneSpec spec;
    spec.name = name;
    spec.seed = seed;
    spec.sampleRate = rate;
    spec.roomChannels = roomChannels;
    spec.hits = hits;
    return hall::makeScene(spec);
}
} // namespace

TEST_CASE("a bare delayed copy: the lag to a hundredth of a millisecond, align, every hit agrees", "[analysis]")
{
    for (const double rate : {44100.0, 48000.0, 88200.0, 96000.0, 176400.0, 192000.0})
        for (const double lag : {0.0012345, 0.0310841, 0.0611})
        {
            const Report report = heard(makeTake(rate, lag, eight(1)));
            const double off = (lagOf(report) - lag) * 1e3;
            INFO(rate << " Hz, lag " << lag * 1e3 << " ms, seed 1: off by " << off << " ms, limit 0.01. "
                      << said(report));
            CHECK(std::abs(off) <= 0.01);
            CHECK(report.polarity == Polarity::normal);
            CHECK(report.verdict == Verdict::align);
            CHECK(report.hitsFound == 8);
            CHECK(report.hitsUsed == 8);
            CHECK(report.hitsAgreeing == 8);
            CHECK(report.hits.size() == 8);
            CHECK(report.confidence >= 0.9);
        }
}

TEST_CASE("shift: the room delayed by n samples moves the lag by n samples", "[analysis]")
{
    for (unsigned seed = 1; seed <= 4; ++seed)
    {
        const hall::Scene scene = sceneOf("player", seed);
        const double before = lagOf(heard(scene));
        for (const std::size_t n : {1U, 100U, 777U})
        {
            const double moved = lagOf(heard(at(48000.0), scene.spot, {later(scene.room[0], n)})) - before;
            const double off = (moved - static_cast<double>(n) / 48000.0) * 1e3;
            INFO("seed " << seed << ", " << n << " samples: off by " << off << " ms, limit 0.021");
            CHECK(std::abs(off) <= 0.021); // one sample
        }
    }
}

TEST_CASE("both delayed alike changes nothing but the time of the hits", "[analysis]")
{
    const hall::Scene scene = sceneOf("player", 5);
    const Report plain = heard(scene);
    const Report moved = heard(at(48000.0), {later(scene.spot[0], 4800)}, {later(scene.room[0], 4800)});
    CHECK(std::abs(lagOf(moved) - lagOf(plain)) <= 1.0 / 48000.0);
    CHECK(moved.polarity == plain.polarity);
    CHECK(moved.verdict == plain.verdict);
}

TEST_CASE("sign: one microphone turned over flips polarity and nothing else; both change nothing", "[analysis]")
{
    for (const std::string name : {"player", "low", "neighbour"})
        for (unsigned seed = 1; seed <= 2; ++seed)
        {
            hall::Scene scene = sceneOf(name, seed, 48000.0, 1, 5);
            const Report plain = heard(scene);
            REQUIRE(plain.lag);
            scale(scene.room[0], -1.0);
            const Report flipped = heard(scene);
            scale(scene.spot[0], -1.0);
            Report both = heard(scene);
            both.spotAttack = plain.spotAttack; // the pictures are turned over as well they should be
            both.roomAttack = plain.roomAttack;
            INFO(name << ", seed " << seed << ": " << said(plain) << " / " << said(flipped));
            CHECK(flipped.lag == plain.lag);
            CHECK(flipped.polarity != plain.polarity);
            CHECK(flipped.confidence == plain.confidence);
            CHECK(flipped.verdict == plain.verdict);
            CHECK(flipped.blend.lowSumNormalDb == Approx(plain.blend.lowSumInvertedDb).margin(1e-9));
            CHECK(flipped.blend.lowSumInvertedDb == Approx(plain.blend.lowSumNormalDb).margin(1e-9));
            CHECK(allOf(both) == allOf(plain));
        }
}

TEST_CASE("gain: 20 dB up or down on either microphone changes neither lag nor polarity nor verdict", "[analysis]")
{
    for (const std::string name : {"player", "low"})
        for (unsigned seed = 1; seed <= 2; ++seed)
        {
            const hall::Scene scene = sceneOf(name, seed);
            const Report plain = heard(scene);
            for (const auto& [spotDb, roomDb] : {std::pair{-20.0, 0.0}, {20.0, 0.0}, {0.0, -20.0}, {0.0, 20.0}})
            {
                hall::Scene scaled = scene;
                scale(scaled.spot[0], gainOf(spotDb));
                scale(scaled.room[0], gainOf(roomDb));
                const Report report = heard(scaled);
                INFO(name << ", seed " << seed << ", spot " << spotDb << " dB, room " << roomDb
                          << " dB: " << said(report) << " / " << said(plain));
                CHECK(std::abs(lagOf(report) - lagOf(plain)) <= 10e-6);
                CHECK(report.polarity == plain.polarity);
                CHECK(report.verdict == plain.verdict);
            }
        }
}

TEST_CASE("rate: one player in a hall, 44.1 to 192 kHz, within 0.5 ms of the truth and in polarity", "[analysis]")
{
    for (const double rate : {44100.0, 48000.0, 88200.0, 96000.0, 176400.0, 192000.0})
        for (unsigned seed = 21; seed <= (rate < 60000.0 ? 23U : 21U); ++seed)
        {
            const hall::Scene scene = sceneOf("player", seed, rate, 1, 4);
            const Report report = heard(scene);
            const double off = (lagOf(report) - scene.truth.lag) * 1e3;
            INFO(rate << " Hz, seed " << seed << ": off by " << off << " ms, limit 0.5. " << said(report));
            CHECK(std::abs(off) <= 0.5);
            CHECK(report.polarity == scene.truth.polarity);
            CHECK(report.verdict != Verdict::leave);
        }
}

TEST_CASE("halls: each kind of scene with one lag is answered rightly", "[analysis]")
{
    for (const std::string name : {"player", "low", "one-hit", "clap", "roll", "neighbour", "leak", "late"})
        for (unsigned seed = 31; seed <= 33; ++seed)
        {
            const hall::Scene scene = sceneOf(name, seed);
            MeasureSettings settings = at(48000.0);
            settings.lookAhead = name == "late" ? 0.020 : 0.0;
            settings.clap = name == "clap";
            const Report report = heard(settings, scene.spot, scene.room);
            const double off = (lagOf(report) - scene.truth.lag) * 1e3;
            INFO(name << ", seed " << seed << ": off by " << off << " ms, limit 0.5. " << said(report));
            CHECK(std::abs(off) <= 0.5);
            if (name != "leak") CHECK_FALSE(report.leakDb);
            if (name == "leak" && report.leakDb) CHECK(*report.leakDb == Approx(-40.0).margin(1.0));
        }
}

TEST_CASE("no honest hall is said to leak", "[analysis]")
{
    for (const std::string name : {"roll", "neighbour"})
        for (unsigned seed = 1; seed <= 6; ++seed)
        {
            const Report report = heard(sceneOf(name, seed));
            INFO(name << ", seed " << seed << ": " << said(report));
            CHECK_FALSE(report.leakDb);
        }
}

TEST_CASE("unrelated tracks never align", "[analysis]")
{
    for (unsigned seed = 1; seed <= 12; ++seed)
    {
        const Report report = heard(sceneOf("unrelated", seed));
        INFO("seed " << seed << ": " << said(report));
        CHECK(report.verdict != Verdict::align);
        CHECK_FALSE(report.reasons.empty());
    }
}

TEST_CASE("several microphones: every pair is reported, the first arrival is taken, or the channel asked for",
          "[analysis]")
{
    const Take left = makeTake(48000.0, 0.0412, eight(2)), centre = makeTake(48000.0, 0.0311, eight(2)),
               right = makeTake(48000.0, 0.0367, eight(2));
    Samples softer = left.spot;
    scale(softer, 0.5);
    for (const bool loudLeft : {true, false})
    {
        const Tracks spot = loudLeft ? Tracks{left.spot, softer} : Tracks{softer, left.spot};
        const Tracks room{left.room, centre.room, right.room};
        const double truth[] = {0.0412, 0.0311, 0.0367};
        for (const int asked : {-1, 0, 1, 2})
        {
            MeasureSettings settings = at(48000.0);
            settings.roomChannel = asked;
            const Report report = heard(settings, spot, room);
            INFO("asked for " << asked << ": " << said(report));
            CHECK(report.roomChannel == (asked < 0 ? 1 : asked));
            CHECK(report.spotSide == (loudLeft ? 0 : 1));
            CHECK(std::abs(lagOf(report) - truth[report.roomChannel]) <= 1e-5);
            REQUIRE(report.pairs.size() == 6);
            for (int side = 0; side < 2; ++side)
                for (int channel = 0; channel < 3; ++channel)
                {
                    const auto found = std::find_if(report.pairs.begin(), report.pairs.end(),
                                                    [&](const auto& pair)
                                                    { return pair.spotSide == side && pair.roomChannel == channel; });
                    REQUIRE(found != report.pairs.end());
                    REQUIRE(found->lag);
                    CHECK(std::abs(*found->lag - truth[channel]) <= 1e-5);
                    CHECK(found->polarity == Polarity::normal);
                }
        }
    }
}

TEST_CASE("the side of a stereo spot is chosen once, and given up only for a clearly louder one", "[analysis]")
{
    // Eight hits, the first at 0.3 s, then every 0.45 s; the sides' levels change after `turn`.
    const Take take = makeTake(48000.0, 0.0311, eight(2));
    const auto leveled = [&](double before, double after, double turn)
    {
        Samples samples = take.spot;
        for (std::size_t k = 0; k < samples.size(); ++k)
            samples[k] *= static_cast<float>(static_cast<double>(k) < turn * 48000.0 ? before : after);
        return samples;
    };
    const auto sideOf = [&](const Samples& left, const Samples& right) {
        return heard(at(48000.0), {left, right}, {take.room}).spotSide;
    };
    const double afterThree = 1.5, afterOne = 0.6;                                    // s
    CHECK(sideOf(leveled(1.0, 0.8, afterThree), leveled(0.9, 1.0, afterThree)) == 0); // by 2 dB, later: no reason
    CHECK(sideOf(leveled(0.9, 1.0, afterThree), leveled(1.0, 0.8, afterThree)) == 1);
    CHECK(sideOf(leveled(1.0, 0.4, afterOne), leveled(0.9, 1.0, afterOne)) == 1); // by 8 dB, from the second hit on
}

TEST_CASE("a room channel that hears nothing is not taken for the first", "[analysis]")
{
    const Take take = makeTake(48000.0, 0.0311, eight(3));
    for (const double level : {0.0, 0.001})
    {
        const Report report = heard(at(48000.0), {take.spot}, {noise(take.room.size(), 9, level), take.room});
        INFO("other channel's noise " << level << ": " << said(report));
        CHECK(report.roomChannel == 1);
        CHECK(std::abs(lagOf(report) - 0.0311) <= 1e-5);
        CHECK(report.verdict == Verdict::align);
    }
}

TEST_CASE("an array in a hall: each channel's own lag within 0.5 ms", "[analysis]")
{
    const hall::Scene scene = sceneOf("player", 41, 48000.0, 3);
    const Report report = heard(scene);
    REQUIRE(report.pairs.size() == 3);
    double first = 1.0;
    for (std::size_t c = 0; c < 3; ++c)
    {
        INFO("channel " << c << ", seed 41");
        REQUIRE(report.pairs[c].lag);
        CHECK(std::abs(*report.pairs[c].lag - scene.truth.channelLags[c]) <= 0.0005);
        first = std::min(first, scene.truth.channelLags[c]);
    }
    CHECK(std::abs(lagOf(report) - first) <= 0.0005);
}

TEST_CASE("a lag is in whole nanoseconds and within what was asked for", "[analysis]")
{
    for (unsigned seed = 1; seed <= 4; ++seed)
    {
        const Report report = heard(sceneOf("player", seed, 44100.0));
        REQUIRE(report.lag);
        CHECK(*report.lag == std::round(*report.lag * 1e9) / 1e9);
        CHECK(*report.lag <= MeasureSettings{}.reach);
        CHECK(*report.lag >= -0.0035); // a metre's worth before the look-ahead, see LagGrid
    }
}

TEST_CASE("nothing played, nothing connected, the same twice: unsure, no lag, and the reason", "[analysis]")
{
    const Take take = makeTake(48000.0, 0.0311, eight(4));
    const Samples silence(take.spot.size(), 0.0F), hiss = noise(take.spot.size(), 5, gainOf(-70.0));
    const auto refused = [](const Report& report)
    {
        INFO(said(report));
        CHECK(report.verdict == Verdict::unsure);
        CHECK_FALSE(report.lag);
        CHECK_FALSE(report.polarity);
        CHECK_FALSE(report.reasons.empty());
        CHECK(report.confidence == 0.0);
    };
    for (const Samples* spot : {&silence, &hiss})
        for (const Samples* room : {&silence, &hiss, &take.room})
        {
            const Report report = heard(at(48000.0), {*spot}, {*room});
            refused(report);
            CHECK(report.hitsFound == 0);
            CHECK(mentions(report, "No hit"));
        }
    const Report noRoom = heard(at(48000.0), {take.spot}, {silence});
    refused(noRoom);
    CHECK(noRoom.input == InputState::noRoom);
    CHECK(noRoom.hitsFound == 8);
    CHECK(mentions(noRoom, "room is silent"));
    const Report same = heard(at(48000.0), {take.spot}, {take.spot});
    refused(same);
    CHECK(same.input == InputState::sameSignal);
    CHECK(mentions(same, "same signal"));
}

TEST_CASE("a spot whose neighbours play alone elsewhere: two lags are seen as two", "[analysis]")
{
    // Alternating hits at two lags, both as loud: no single lag may be told with confidence.
    Strokes ours = eight(6), theirs = eight(7);
    for (double& time : theirs.times) time += 0.22;
    Take take = makeTake(48000.0, 0.0311, ours);
    addStrokes(take.spot, 48000.0, theirs);
    addStrokes(take.room, 48000.0, theirs, 0.0452, 0.1);
    const Report report = heard(take);
    INFO(said(report));
    CHECK(report.verdict == Verdict::leave);
    REQUIRE(report.secondCluster);
    const double low = std::min(*report.lag, *report.secondCluster);
    const double high = std::max(*report.lag, *report.secondCluster);
    CHECK(std::abs(low - 0.0311) <= 0.0005);
    CHECK(std::abs(high - 0.0452) <= 0.0005);
}

TEST_CASE("two clocks: the drift is found within three standard deviations, its sign is the room's", "[analysis]")
{
    for (const double ppm : {-30.0, 0.0, 30.0})
    {
        Strokes strokes;
        strokes.times = evenTimes(16, 0.3, 1.5);
        strokes.seed = 8;
        const double rate = 48000.0;
        Take take = makeTake(rate, 0.0311, strokes);
        take.room = noise(take.room.size(), 9, gainOf(-80.0));
        Strokes one = strokes;
        addStrokes(take.room, rate * (1.0 + ppm * 1e-6), one, 0.0311, 0.1); // a recorder that runs so much faster
        const Report report = heard(take);
        REQUIRE(report.driftPpm);
        INFO(ppm << " ppm: found " << *report.driftPpm << " with deviation " << report.driftPpmSd);
        CHECK(std::abs(*report.driftPpm - ppm) <= 3.0 * report.driftPpmSd + 0.05);
        CHECK(std::abs(*report.driftPpm - ppm) <= 2.0);
    }
}

TEST_CASE("the curves: evidence is largest, 1, near the lag; the attack's pictures begin before it", "[analysis]")
{
    const Report report = heard(sceneOf("player", 51));
    REQUIRE(report.lag);
    const auto& values = report.evidence.values;
    const auto top = std::max_element(values.begin(), values.end());
    REQUIRE(top != values.end());
    CHECK(*top == 1.0F);
    CHECK(report.evidence.step > 0.0);
    CHECK(report.evidence.start <= 0.0);
    CHECK(report.evidence.start + report.evidence.step * static_cast<double>(values.size()) ==
          Approx(MeasureSettings{}.reach).margin(0.001));
    for (const Curve* curve : {&report.spotAttack, &report.roomAttack})
    {
        CHECK(curve->start < 0.0);
        CHECK(curve->step > 0.0);
        CHECK(curve->start + curve->step * static_cast<double>(curve->values.size()) > *report.lag);
    }
    CHECK(report.features.size() > 0);
}

TEST_CASE("more hits than are kept: counted, and the figures stay", "[analysis]")
{
    Strokes strokes;
    strokes.times = evenTimes(140, 0.2, 0.06);
    strokes.seed = 10;
    const Report report = heard(makeTake(48000.0, 0.0311, strokes));
    INFO(said(report));
    CHECK(report.hitsFound == 140);
    CHECK(report.hits.size() <= 140);
    CHECK(std::abs(lagOf(report) - 0.0311) <= 1e-5);
    CHECK(report.verdict == Verdict::align);
}
