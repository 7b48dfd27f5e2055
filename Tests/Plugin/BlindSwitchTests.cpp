#include "Plugin/BlindSwitch.h"

#include "Plugin/Engine.h"
#include "Plugin/Recording.h"
#include "Plugin/TrialRun.h"
#include "Support/Catch.h"
#include "Support/RealtimeGuard.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>
#include <random>

using namespace tarry;
using tarry::test::makeRecording;
using tarry::test::RealtimeGuard;
using tarry::test::Recording;

namespace
{
using Tracks = std::vector<std::vector<float>>;

/// An engine that holds a lag and hears one recording over and over, as a mixer loops a passage.
struct Desk
{
    explicit Desk(const tarry::test::RecordingPlan& plan, double lookAhead = 0.0) : recording(makeRecording(plan))
    {
        engine.setSetup({.lookAhead = lookAhead});
        engine.prepare({plan.sampleRate, plan.spotChannels, plan.roomChannels}, controls);
        engine.setByHand(Sides::both({plan.lag, plan.polarity}));
    }

    /// Plays on for so long; what came out.
    Tracks play(double seconds, int block = 256)
    {
        Tracks heard(recording.spot.size());
        auto rest = static_cast<std::size_t>(std::lround(seconds * recording.sampleRate));
        while (rest > 0)
        {
            const auto n = std::min({rest, static_cast<std::size_t>(block), recording.frames() - position});
            Tracks part;
            float* spot[2] = {};
            const float* room[2] = {};
            for (std::size_t i = 0; i < recording.spot.size(); ++i)
            {
                const auto* from = recording.spot[i].data() + position;
                part.emplace_back(from, from + n);
            }
            for (std::size_t i = 0; i < part.size(); ++i) spot[i] = part[i].data();
            for (std::size_t i = 0; i < recording.room.size(); ++i) room[i] = recording.room[i].data() + position;
            {
                const RealtimeGuard guard;
                engine.process(spot, room, static_cast<int>(n), controls, false);
                if (RealtimeGuard::works()) forbidden += guard.count();
            }
            for (std::size_t i = 0; i < part.size(); ++i)
                heard[i].insert(heard[i].end(), part[i].begin(), part[i].end());
            engine.blind().work();
            position = (position + n) % recording.frames();
            rest -= n;
            played += static_cast<std::int64_t>(n);
        }
        return heard;
    }

    /// One whole turn of the loop from now on, with nothing switched meanwhile.
    Tracks turn() { return play(static_cast<double>(recording.frames()) / recording.sampleRate); }

    Recording recording; // one turn of the loop
    Controls controls;
    Engine engine;
    TrialRun trial{engine};
    std::size_t position = 0;
    std::int64_t played = 0; ///< frames since the beginning
    int forbidden = 0;       ///< calls that an audio thread must not make
};
} // namespace

TEST_CASE("blind trial: the plugin's own two blends, brought to the same loudness within 0.1 LU")
{
    const auto seed = std::random_device{}();
    INFO("seed " << seed);
    std::mt19937 random(seed);
    for (int i = 0; i < 4; ++i)
    {
        const tarry::test::RecordingPlan plan{.seed = static_cast<unsigned>(random()),
                                              .sampleRate = i == 3 ? 44100.0 : 48000.0,
                                              .lag = 0.004 + 0.03 * static_cast<double>(random() % 100) / 100.0,
                                              .polarity = i % 2 == 0 ? Polarity::normal : Polarity::inverted,
                                              .hits = 4,
                                              .spotChannels = 1 + i % 2,
                                              .roomChannels = 2 - i % 2};
        // Beside the trial, two that just blend: one aligned, one as recorded. The room is faint, so it is turned up.
        std::array<Desk, 3> desks{Desk(plan, i < 2 ? 0.0 : 0.01), Desk(plan, i < 2 ? 0.0 : 0.01),
                                  Desk(plan, i < 2 ? 0.0 : 0.01)};
        auto& [desk, aligned, recorded] = desks;
        for (auto& each : desks) each.controls.blendGain = i == 0 ? 4.0 : 10.0;
        aligned.controls.blend = recorded.controls.blend = true;
        recorded.controls.aligned = false;
        desk.trial.start(false, desk.controls, random());
        REQUIRE(desk.trial.values(desk.controls).matching);

        std::array<Tracks, 2> heard;
        for (int turns = 0; turns < 9; ++turns)
        {
            desk.turn();
            for (auto* each : {&aligned, &recorded})
            {
                auto& whole = heard[each == &aligned ? 0 : 1];
                const auto part = each->turn();
                whole.resize(part.size());
                for (std::size_t c = 0; c < part.size(); ++c)
                    whole[c].insert(whole[c].end(), part[c].begin(), part[c].end());
            }
        }
        desk.engine.blind().work();
        const auto difference = desk.engine.blind().loudnessDifference();
        REQUIRE(difference.has_value());
        const auto gains = matchLoudness(*difference, 0.0);
        REQUIRE_FALSE(desk.trial.values(desk.controls).matching);
        std::array<double, 2> loudness{};
        for (std::size_t side = 0; side < 2; ++side)
        {
            const double gain = side == 0 ? gains.first : gains.second;
            for (auto& channel : heard[side])
                for (auto& sample : channel) sample = static_cast<float>(static_cast<double>(sample) * gain);
            loudness[side] = integratedLoudness(heard[side], plan.sampleRate).value_or(99.0);
        }
        INFO("aligned " << loudness[0] << " LUFS, as recorded " << loudness[1] << ", before matching " << *difference
                        << " LU apart; limit 0.1 LU");
        CHECK(std::abs(loudness[0] - loudness[1]) <= 0.1);

        for (const bool side : {true, false})
        {
            desk.trial.hear(side ? TrialSound::a : TrialSound::b);
            desk.turn(); // the dip, and what was in the delay
            const auto sound = desk.turn(), own = (side ? aligned : recorded).turn();
            double error = 0.0;
            const double gain = side ? gains.first : gains.second;
            for (std::size_t c = 0; c < own.size(); ++c)
                for (std::size_t k = 0; k < own[c].size(); ++k)
                    error = std::max(
                        error, std::abs(static_cast<double>(sound[c][k]) - gain * static_cast<double>(own[c][k])));
            INFO((side ? "aligned" : "as recorded") << ": largest error " << error << ", limit 1e-6 of full scale");
            CHECK(error <= 1.0e-6);
        }
        CHECK(desk.forbidden == 0);
    }
}

TEST_CASE("blend meter: measures what aligning does to the loudness, and turns the louder one down")
{
    // A steady 500 Hz in both, the room half a period late: as recorded they cancel, aligned they add up.
    std::vector<float> spot(96000), room(96000);
    for (std::size_t k = 0; k < spot.size(); ++k)
    {
        const double phase = 2.0 * std::numbers::pi * 500.0 * static_cast<double>(k) / 48000.0;
        spot[k] = static_cast<float>(0.25 * std::sin(phase));
        room[k] = static_cast<float>(0.125 * std::sin(phase - std::numbers::pi));
    }
    BlendMeter meter({48000.0, 1, 1, 0.3, 0.0}, {Sides::both({0.001, Polarity::normal}), false, 1.0});
    CHECK_FALSE(meter.match().has_value());
    for (std::size_t at = 0; at < spot.size(); at += 480)
    {
        const float* spotNow = spot.data() + at;
        const float* roomNow = room.data() + at;
        meter.add(&spotNow, &roomNow, 480);
    }
    CHECK(meter.heard() == Approx(2.0));
    const auto match = meter.match();
    REQUIRE(match.has_value());
    // 0.25 + 0.125 against 0.25 - 0.125: a factor of 3, 9.54 dB.
    INFO(match->difference << " LU, 9.54 expected, limit 0.05");
    CHECK(match->difference == Approx(20.0 * std::log10(3.0)).margin(0.05));
    CHECK(match->first == Approx(1.0 / 3.0).epsilon(0.01));
    CHECK(match->second == 1.0);
}

TEST_CASE("blind trial: a switch is the same dip from either side to either, with no step in it")
{
    // Constant input, so that whatever moves is the switch. The room is silent, so both sides are the spot itself.
    Desk desk({.seed = 3, .hits = 5});
    desk.trial.start(false, desk.controls, 1);
    desk.play(20.0);
    REQUIRE_FALSE(desk.trial.values(desk.controls).matching);
    desk.play(1.0);
    for (auto& channel : desk.recording.spot) std::fill(channel.begin(), channel.end(), 0.5F);
    for (auto& channel : desk.recording.room) std::fill(channel.begin(), channel.end(), 0.0F);
    desk.play(1.0);

    // Each begins at the same place of the engine's chunks of 512 frames.
    const auto align = [&] { desk.play(static_cast<double>(512 - desk.played % 512) / 48000.0); };
    const auto dip = [&](bool to)
    {
        align();
        const float before = desk.play(512.0 / 48000.0)[0].back();
        desk.engine.blind().hear(to, false);
        const auto heard = desk.play(0.3)[0];
        float step = 0.0F;
        for (std::size_t k = 1; k < heard.size(); ++k) step = std::max(step, std::abs(heard[k] - heard[k - 1]));
        std::vector<std::size_t> silent;
        for (std::size_t k = 0; k < heard.size(); ++k)
            if (heard[k] == 0.0F) silent.push_back(k);
        REQUIRE_FALSE(silent.empty());
        const float limit =
            0.5F / 720.0F * 1.5708F * 1.01F; // half a cosine in 15 ms at 48 kHz is pi/2 steeper than a line
        INFO("to " << (to ? "aligned" : "as recorded") << ": silent from " << silent.front() << " to " << silent.back()
                   << " of 48000 a second, largest step " << step << ", limit " << limit);
        CHECK(step <= limit);
        CHECK(before > 0.0F);
        CHECK(silent.back() - silent.front() + 1 == silent.size()); // one silence
        return std::pair{silent.front(), silent.back()};
    };
    dip(true);
    const auto toSame = dip(true), toOther = dip(false), toSameAgain = dip(false), back = dip(true);
    CHECK(toSame == toOther);
    CHECK(toSame == toSameAgain);
    CHECK(toSame == back);
    CHECK(desk.forbidden == 0);
}

TEST_CASE("blind trial: X is what the order says, and both sides are what they are called")
{
    Desk desk({.seed = 9, .lag = 0.02, .hits = 5});
    const std::uint64_t order = 4711;
    Trial twin;
    twin.start(false, order);
    desk.trial.start(false, desk.controls, order);
    desk.play(20.0);
    (void)desk.trial.values(desk.controls);
    for (int i = 0; i < 6; ++i)
    {
        desk.play(0.2);
        CHECK(desk.trial.values(desk.controls).hearing == TrialSound::x);
        CHECK(desk.engine.heardSamples(0) == (twin.isAligned(TrialSound::x) ? 960.0 : 0.0)); // 20 ms at 48 kHz
        desk.trial.hear(TrialSound::a);
        desk.play(0.2);
        CHECK(desk.engine.heardSamples(0) == 960.0);
        desk.trial.hear(TrialSound::b);
        desk.play(0.2);
        CHECK(desk.engine.heardSamples(0) == 0.0);
        desk.trial.answer(true);
        twin.answer(true);
    }
    CHECK(desk.trial.values(desk.controls).answered == 6);
}

TEST_CASE("blind trial: bypassed or rendered offline nothing of it is heard, bit for bit; stopped, it is gone")
{
    Desk desk({.seed = 10, .lag = 0.02, .hits = 5});
    desk.trial.start(true, desk.controls);
    desk.play(20.0);
    (void)desk.trial.values(desk.controls);
    desk.play(0.5);
    desk.controls.bypassed = true;
    desk.play(0.5);
    const auto from = desk.position;
    const auto heard = desk.play(0.5)[0];
    bool same = true;
    for (std::size_t k = 0; k < heard.size(); ++k)
        same = same && heard[k] == desk.recording.spot[0][(from + k) % desk.recording.frames()];
    CHECK(same);
    desk.controls.bypassed = false;
    desk.play(0.5);
    desk.trial.stop();
    desk.play(0.5);
    const auto start = desk.position;
    const auto after = desk.play(0.5)[0];
    same = true;
    for (std::size_t k = 0; k < after.size(); ++k)
    {
        const auto at = (start + k + desk.recording.frames() - 960) % desk.recording.frames();
        same = same && after[k] == desk.recording.spot[0][at];
    }
    CHECK(same); // the plugin's own sound again: the lag that is held, no room
    CHECK_FALSE(desk.trial.values(desk.controls).running);
    CHECK(desk.forbidden == 0);
}

TEST_CASE("blind trial: silence is waited out, and what is turned meanwhile does not count")
{
    Desk desk({.seed = 12, .lag = 0.02, .hits = 5});
    const auto kept = desk.recording;
    for (auto* part : {&desk.recording.spot, &desk.recording.room})
        for (auto& channel : *part) std::fill(channel.begin(), channel.end(), 0.0F);
    desk.trial.start(false, desk.controls, 5);
    desk.play(12.0);
    CHECK(desk.trial.values(desk.controls).matching);
    CHECK(desk.trial.values(desk.controls).secondsLeft == 10);
    desk.recording = kept;
    desk.play(6.0);
    CHECK(desk.trial.values(desk.controls).secondsLeft < 9);
    desk.engine.setByHand(Sides::both({0.05, Polarity::inverted}));
    desk.controls.lean = 0.01;
    desk.play(20.0);
    (void)desk.trial.values(desk.controls);
    desk.trial.hear(TrialSound::a);
    desk.play(0.5);
    CHECK(desk.engine.heardSamples(0) == 960.0);
}

TEST_CASE("blind trial: started only where there is something to compare, and ended with the streams")
{
    const tarry::test::RecordingPlan plan{.seed = 2, .lag = 0.02, .hits = 5};
    const auto obstacle = [](Desk& desk)
    {
        desk.trial.start(false, desk.controls);
        const auto values = desk.trial.values(desk.controls);
        CHECK_FALSE(values.running);
        return values.obstacle;
    };
    {
        Desk desk(plan);
        desk.engine.undo(); // back to nothing held
        CHECK(obstacle(desk).find("no lag to try yet") != std::string::npos);
        desk.engine.setLagByHand(0.0);
        CHECK(obstacle(desk).find("the same as recorded") != std::string::npos);
        desk.controls.bypassed = true;
        desk.engine.setLagByHand(0.01);
        CHECK(obstacle(desk).find("bypassed") != std::string::npos);
    }
    {
        Desk desk(plan);
        desk.engine.prepare({48000.0, 1, 0}, desk.controls);
        CHECK(obstacle(desk).find("No room is connected") != std::string::npos);
    }
    Desk desk(plan);
    desk.trial.start(false, desk.controls);
    CHECK(desk.trial.values(desk.controls).running);
    desk.engine.prepare({48000.0, 1, 1}, desk.controls);
    const auto values = desk.trial.values(desk.controls);
    CHECK_FALSE(values.running);
    CHECK(values.note.find("began its streams anew") != std::string::npos);
}

TEST_CASE("blind trial: a whole one ends in words, the circumstances, and a short form")
{
    Desk desk({.seed = 21, .lag = 0.02, .hits = 5});
    const std::uint64_t order = 31;
    Trial twin;
    twin.start(false, order);
    desk.trial.start(false, desk.controls, order);
    desk.play(20.0);
    for (int i = 0; i < 16; ++i)
    {
        const auto values = desk.trial.values(desk.controls);
        CHECK(values.answered == i);
        CHECK(values.result.empty()); // tells nothing before the end
        const bool truth = twin.isAligned(TrialSound::x);
        const bool said = i < 12 ? truth : !truth;
        twin.answer(said);
        CHECK_FALSE(values.mayAnswer);
        desk.trial.answer(said);
        CHECK(desk.trial.values(desk.controls).answered == i); // each answer wants both heard
        desk.trial.hear(TrialSound::a);
        CHECK(desk.trial.values(desk.controls).toHear == "Hear as recorded too.");
        desk.trial.hear(TrialSound::b);
        CHECK(desk.trial.values(desk.controls).mayAnswer);
        desk.trial.answer(said);
        desk.play(0.1);
    }
    const auto values = desk.trial.values(desk.controls);
    CHECK(values.finished);
    INFO(values.result);
    CHECK(values.result == "12 of 16 right: aligning makes a difference that you hear here.");
    CHECK(values.yes == "The hidden one is aligned");
    CHECK(
        values.details.find("\nSpot delayed by 20.000 ms, polarity normal; room +0.0 dB in the blend; aligned was ") !=
        std::string::npos);
    CHECK(values.details.ends_with(" LU before matching; order 31."));
    CHECK(desk.trial.results() == std::vector<std::string>{"right:12/16,p=0.0384"}); // kept
    CHECK(desk.engine.undoWords() == "the trial's note");
    CHECK(desk.trial.lastShortForm() == "right:12/16,p=0.0384");
    CHECK_FALSE(desk.engine.blind().isRunning());
}
