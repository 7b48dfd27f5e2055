#include "Plugin/Engine.h"
#include "Plugin/TrialRun.h"
#include "Support/Catch.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <functional>
#include <numbers>
#include <random>
#include <vector>

using namespace tarry;

namespace
{
using Track = std::vector<float>;
constexpr int block = 64;

/// Odd taps of a windowed sinc (Kaiser, 140 dB; Oppenheim and Schafer): low-pass below `edge`, a share of the sample
/// rate.
std::vector<double> lowPass(double edge)
{
    constexpr int half = 120;
    constexpr double beta = 0.1102 * (140.0 - 8.7);
    std::vector<double> taps;
    for (int i = -half; i <= half; ++i)
    {
        const double x = static_cast<double>(i) / half;
        const double sinc = i == 0 ? 2.0 * edge : std::sin(2.0 * std::numbers::pi * edge * i) / (std::numbers::pi * i);
        taps.push_back(sinc * std::cyl_bessel_i(0.0, beta * std::sqrt(1.0 - x * x)) / std::cyl_bessel_i(0.0, beta));
    }
    return taps;
}

double filtered(const std::vector<double>& taps, const Track& x, std::size_t at)
{
    double sum = 0.0;
    for (std::size_t k = 0; k < taps.size() && k <= at; ++k) sum += taps[k] * static_cast<double>(x[at - k]);
    return sum;
}

/// The loudest, dBFS, of what lies above 0.45 of the sample rate, where none of the signals has anything.
double clickDb(const Track& x, std::size_t from)
{
    static const auto taps = []
    {
        auto high = lowPass(0.45);
        for (double& tap : high) tap = -tap;
        high[high.size() / 2] += 1.0;
        return high;
    }();
    double loudest = 1.0e-12;
    for (std::size_t i = std::max(from, taps.size()); i < x.size(); ++i)
        loudest = std::max(loudest, std::abs(filtered(taps, x, i)));
    return 20.0 * std::log10(loudest);
}

enum class Kind
{
    lowSine,
    sine,
    noise,
    drums
};
const char* nameOf(Kind kind)
{
    return std::array{"61 Hz", "997 Hz", "noise", "drums"}[static_cast<std::size_t>(kind)];
}

/// Nothing above 0.4 of the sample rate in any of them. `seed` and `phase`: the room's are others than the spot's.
Track make(Kind kind, double rate, double seconds, unsigned seed)
{
    Track track(static_cast<std::size_t>(seconds * rate));
    std::mt19937 engine(seed);
    std::uniform_real_distribution<float> noise(-1.0F, 1.0F);
    for (std::size_t i = 0; i < track.size(); ++i)
    {
        const double t = static_cast<double>(i) / rate;
        const double hertz = kind == Kind::lowSine ? 61.0 : 997.0;
        if (kind == Kind::lowSine || kind == Kind::sine)
            track[i] = static_cast<float>(0.5 * std::sin(2.0 * std::numbers::pi * hertz * t + seed));
        else if (kind == Kind::noise)
            track[i] = 0.5F * noise(engine);
        else
            track[i] = static_cast<float>(std::exp(-std::fmod(t + 0.01 * seed, 0.11) / 0.015)) * noise(engine);
    }
    if (kind == Kind::lowSine || kind == Kind::sine) return track;
    static const auto taps = lowPass(0.35);
    Track soft(track.size());
    for (std::size_t i = 0; i < track.size(); ++i) soft[i] = static_cast<float>(filtered(taps, track, i));
    return soft;
}

/// An engine with a stereo spot and a stereo room, played in a loop.
class Rig
{
public:
    Rig(Kind kind, double sampleRate, double seconds) : rate(sampleRate)
    {
        for (unsigned c = 0; c < 2; ++c)
        {
            spot[c] = make(kind, rate, seconds, 1 + c);
            room[c] = make(kind, rate, seconds, 11 + c);
        }
        controls.freezeWhenSettled = false;
        engine.prepare({rate, 2, 2}, controls);
        engine.setByHand(Sides::both({0.0310843, Polarity::normal}));
    }

    /// The left output of some seconds more, a loop of the signal in it or not.
    Track play(double seconds)
    {
        Track heard;
        for (const auto end = at + static_cast<std::size_t>(seconds * rate); at < end;)
        {
            if (next + block > spot[0].size()) next = 0; // the signals begin anew where they began: see `settle`
            std::array<Track, 2> out;
            std::array<const float*, 2> in{};
            for (std::size_t c = 0; c < 2; ++c)
            {
                out[c].assign(spot[c].begin() + static_cast<std::ptrdiff_t>(next),
                              spot[c].begin() + static_cast<std::ptrdiff_t>(next + block));
                in[c] = room[c].data() + next;
            }
            float* outs[] = {out[0].data(), out[1].data()};
            engine.process(outs, in.data(), block, controls, false);
            engine.work(controls);
            heard.insert(heard.end(), out[0].begin(), out[0].end());
            next += block;
            at += block;
        }
        return heard;
    }

    double rate;
    Engine engine;
    Controls controls;
    TrialRun trial{engine};

private:
    std::array<Track, 2> spot, room;
    std::size_t at = 0, next = 0;
};

constexpr double limitDb = -110.0;

/// Some quiet, the change, and what follows it: the click, in dBFS.
double clickOf(Rig& rig, const std::function<void()>& change)
{
    auto heard = rig.play(0.03);
    const auto from = heard.size();
    change();
    const auto after = rig.play(0.3);
    heard.insert(heard.end(), after.begin(), after.end());
    return clickDb(heard, from);
}
/// A measurement that is sure of a lag, with which what is held then changes.
std::shared_ptr<const Report> sureOf(double lag, Polarity polarity)
{
    Report report;
    report.hitsFound = report.hitsUsed = report.hitsAgreeing = 8;
    report.lag = lag;
    report.polarity = polarity;
    report.confidence = 0.99;
    report.verdict = Verdict::align;
    return std::make_shared<const Report>(report);
}
} // namespace

TEST_CASE("the click detector is able to fail: one wrong sample, a step in gain, a corner")
{
    auto sine = make(Kind::lowSine, 48000.0, 0.2, 1);
    CHECK(clickDb(sine, 500) < -140.0);
    auto dropped = sine;
    dropped[5000] += 0.01F;
    CHECK(clickDb(dropped, 500) > -70.0);
    auto stepped = sine;
    for (std::size_t i = 5000; i < stepped.size(); ++i) stepped[i] *= 0.99F;
    CHECK(clickDb(stepped, 500) > -100.0);
    auto ramp = sine;
    for (std::size_t i = 5000; i < ramp.size(); ++i)
        ramp[i] *= std::max(0.0F, 1.0F - static_cast<float>(i - 5000) / 480.0F);
    CHECK(clickDb(ramp, 500) > -110.0);
}

TEST_CASE("no change clicks: nothing above -110 dBFS beyond the signal's own, at any rate, whatever is played")
{
    const double rate = GENERATE(44100.0, 48000.0, 96000.0, 192000.0);
    const Kind kind = GENERATE(Kind::lowSine, Kind::sine, Kind::noise, Kind::drums);
    Rig rig(kind, rate, 20.0);
    const auto setup = [&](double lookAhead, bool late)
    {
        auto wanted = rig.engine.setup();
        wanted.lookAhead = lookAhead;
        wanted.roomArrivesLate = late;
        (void)rig.engine.setSetup(wanted);
    };
    const auto byHand = [&](double lag, Polarity polarity) {
        rig.engine.setByHand(Sides{{{{lag, polarity}, {lag + 0.001, Polarity::normal}}}});
    };
    Controls& now = rig.controls;
    const std::vector<std::pair<const char*, std::function<void()>>> changes{
        {"lag by hand", [&] { byHand(0.0123456, Polarity::normal); }},
        {"polarity", [&] { byHand(0.0123456, Polarity::inverted); }},
        {"lean", [&] { now.lean = 0.00837; }},
        {"whole samples", [&] { now.wholeSamples = true; }},
        {"as recorded", [&] { now.aligned = false; }},
        {"aligned", [&] { now.aligned = true; }},
        {"bypass", [&] { now.bypassed = true; }},
        {"bypass off", [&] { now.bypassed = false; }},
        {"blend", [&] { now.blend = true; }},
        {"blend louder", [&] { now.blendGain = 2.0; }},
        {"blend quieter", [&] { now.blendGain = 0.25; }},
        {"look-ahead, blend on", [&] { setup(0.0107, true); }},
        {"room no longer late", [&] { setup(0.0107, false); }},
        {"room late again", [&] { setup(0.0107, true); }},
        {"longest look-ahead, room not late", [&] { setup(0.1, false); }},
        {"bypass, blend on", [&] { now.bypassed = true; }},
        {"bypass off, blend on", [&] { now.bypassed = false; }},
        {"a preset: look-ahead, lean, blend's level",
         [&]
         {
             setup(0.02, true);
             now.lean = -0.004;
             now.blendGain = 1.0;
         }},
        {"no look-ahead", [&] { setup(0.0, true); }},
        {"blend off", [&] { now.blend = false; }},
        {"a state: look-ahead and what is held",
         [&]
         {
             setup(0.05, true);
             Follow::State state;
             state.phase = Phase::frozen;
             state.held = Sides::both({0.02, Polarity::inverted});
             rig.engine.restore(state, {});
         }},
        {"no look-ahead, blend off", [&] { setup(0.0, true); }},
    };
    (void)rig.play(0.4);
    for (const auto& [name, change] : changes)
    {
        const double click = clickOf(rig, change);
        INFO(name << ", " << nameOf(kind) << " at " << rate << " Hz: " << click << " dBFS, limit " << limitDb);
        CHECK(click < limitDb);
    }
    CHECK(rig.engine.latencySamples() == 0);
}

TEST_CASE("no act clicks: measuring, following, freezing, offers, undo, the lock, the A/B between two lags")
{
    const double rate = GENERATE(44100.0, 48000.0, 96000.0, 192000.0);
    const Kind kind = GENERATE(Kind::lowSine, Kind::sine, Kind::noise, Kind::drums);
    Rig rig(kind, rate, 12.0);
    Engine& engine = rig.engine;
    Controls& now = rig.controls;
    const auto held = [&] { return engine.held() ? engine.held()->side[0] : Alignment{}; };
    const auto isHeld = [&](double lag, Polarity polarity) { return held() == Alignment{lag, polarity}; };
    constexpr auto normal = Polarity::normal, inverted = Polarity::inverted;
    bool isSo = true; // the change was the one that its name says
    const std::vector<std::pair<const char*, std::function<void()>>> changes{
        {"measured: beside a lag by hand it is offered",
         [&]
         {
             engine.setMeasuredWhole(sureOf(0.0212345, inverted));
             isSo = engine.measure();
         }},
        {"the A/B between two lags",
         [&]
         {
             isSo = engine.otherLag().has_value();
             now.compareLags = true;
             now.aligned = false;
         }},
        {"and back", [&] { now.aligned = true; }},
        {"taking the offer", [&] { isSo = engine.takeOffer() && isHeld(0.0212345, inverted); }},
        {"undo", [&] { isSo = engine.undo().has_value() && isHeld(0.0310843, normal); }},
        {"redo", [&] { isSo = engine.redo().has_value() && isHeld(0.0212345, inverted); }},
        {"no longer frozen, and another lag is followed",
         [&]
         {
             engine.setMeasuredWhole(sureOf(0.0262345, normal));
             isSo = engine.measure();
         }},
        {"followed a little further",
         [&]
         {
             isSo = engine.phase() == Phase::settled && isHeld(0.0262345, normal);
             engine.setMeasuredWhole(sureOf(0.0264345, normal));
         }},
        {"freezing takes the finest figure",
         [&]
         {
             isSo = isHeld(0.0264345, normal);
             engine.setMeasuredWhole(sureOf(0.0264745, normal));
             isSo = isSo && engine.freeze(now) && isHeld(0.0264745, normal);
         }},
        {"applying what is measured",
         [&]
         {
             engine.setMeasuredWhole(sureOf(0.0112345, inverted));
             isSo = engine.measure() && engine.apply(now) && isHeld(0.0112345, inverted);
         }},
        {"the lock", [&] { now.lock = true; }},
        {"what is turned under it",
         [&]
         {
             isSo = engine.locked();
             now.aligned = false;
             now.lean = 0.00641;
             now.blend = true;
         }},
        {"the lock off", [&] { now.lock = false; }},
        {"a lag for each side of its own, by the recall line",
         [&]
         {
             Follow::State state;
             state.held = Sides{{{{0.0153, inverted}, {0.0177, normal}}}};
             engine.restoreWithUndo(state, "the recall line", {});
             now.aligned = true;
             isSo = isHeld(0.0153, inverted);
         }},
        {"undo with the blend on", [&] { isSo = engine.undo().has_value() && isHeld(0.0112345, inverted); }},
        {"as at the start", [&] { now = {}; }},
    };
    (void)rig.play(0.4);
    for (const auto& [name, change] : changes)
    {
        const double click = clickOf(rig, change);
        INFO(name << ", " << nameOf(kind) << " at " << rate << " Hz: " << click << " dBFS, limit " << limitDb);
        CHECK(isSo);
        CHECK(click < limitDb);
    }
}

TEST_CASE("no switch between equally loud sides clicks")
{
    const double rate = GENERATE(44100.0, 192000.0);
    const Kind kind = GENERATE(Kind::lowSine, Kind::drums);
    Rig rig(kind, rate, 7.0); // nothing is judged where it begins anew
    Controls& now = rig.controls;
    now.blend = now.levelMatched = true;
    (void)rig.play(10.9);
    const std::vector<std::pair<const char*, std::function<void()>>> changes{
        {"as recorded", [&] { now.aligned = false; }},
        {"aligned", [&] { now.aligned = true; }},
        {"blend quieter", [&] { now.blendGain = 0.25; }},
        {"no longer as loud", [&] { now.levelMatched = false; }},
    };
    REQUIRE(rig.engine.blind().isMatched());
    for (const auto& [name, change] : changes)
    {
        const double click = clickOf(rig, change);
        INFO(name << ", " << nameOf(kind) << " at " << rate << " Hz: " << click << " dBFS, limit " << limitDb);
        CHECK(click < limitDb);
    }
}

TEST_CASE("no change of a blind trial clicks")
{
    const double rate = GENERATE(44100.0, 48000.0, 96000.0, 192000.0);
    const Kind kind = GENERATE(Kind::lowSine, Kind::drums);
    Rig rig(kind, rate, 7.0); // nothing is judged where it begins anew
    (void)rig.play(0.1);
    rig.trial.start(false, rig.controls, 5);
    (void)rig.play(11.0);
    (void)rig.trial.values(rig.controls);
    REQUIRE(rig.engine.blind().isMatched());
    const std::vector<std::pair<const char*, std::function<void()>>> changes{
        {"begins", [] {}},
        {"A", [&] { rig.trial.hear(TrialSound::a); }},
        {"B", [&] { rig.trial.hear(TrialSound::b); }},
        {"bypass", [&] { rig.controls.bypassed = true; }},
        {"bypass off", [&] { rig.controls.bypassed = false; }},
        {"a state in it",
         [&]
         {
             Follow::State state;
             state.phase = Phase::frozen;
             state.held = Sides::both({0.011, Polarity::inverted});
             rig.engine.restore(state, {});
             rig.trial.stop();
         }},
    };
    for (const auto& [name, change] : changes)
    {
        const double click = clickOf(rig, change);
        INFO(name << ", " << nameOf(kind) << " at " << rate << " Hz: " << click << " dBFS, limit " << limitDb);
        CHECK(click < limitDb);
    }
}
