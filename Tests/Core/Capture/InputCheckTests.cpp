#include "Core/Capture/InputCheck.h"

#include "Core/Delay/Delay.h"
#include "Core/Heard.h"
#include "Support/Catch.h"

#include <cmath>

using namespace tarry;
using namespace tarry::test;

namespace
{
Strokes oneStroke(unsigned seed)
{
    Strokes strokes;
    strokes.times = {0.3};
    strokes.seed = seed;
    return strokes;
}

Strokes fourStrokes(unsigned seed)
{
    Strokes strokes;
    strokes.times = evenTimes(4, 0.3, 0.6);
    strokes.seed = seed;
    return strokes;
}

/// The one hit of a take.
Hit hitOf(const Take& take)
{
    const auto hits = captured(at(take.sampleRate), {take.spot}, {take.room}, [] { return 1024U; });
    REQUIRE(hits.size() == 1);
    return hits.front();
}

InputState stateOf(const Take& take)
{
    return checkInputs(AnalysisWindow(hitOf(take)));
}

double leakOf(const Take& take)
{
    const AnalysisWindow window(hitOf(take));
    return leakGain(window.spot[0], window.room[0], window.onset, window.rate);
}
} // namespace

TEST_CASE("the same signal is known, at any gain and either way up, with dither on it", "[input]")
{
    for (const double rate : {44100.0, 48000.0, 96000.0, 192000.0})
        for (const double gain : {1.0, -1.0, 0.1, -3.0})
        {
            Take take = makeTake(rate, 0.03, oneStroke(1));
            take.room = take.spot;
            scale(take.room, gain);
            addTo(take.room, noise(take.room.size(), 2, gainOf(-110.0)));
            INFO("gain " << gain << " at " << rate << " Hz");
            CHECK(stateOf(take) == InputState::sameSignal);
        }
}

TEST_CASE("a silent room is no room; the quietest real one is", "[input]")
{
    Take take = makeTake(48000.0, 0.03, oneStroke(3));
    const Samples room = take.room;
    take.room.assign(take.room.size(), 0.0F);
    CHECK(stateOf(take) == InputState::noRoom);
    take.room = noise(take.room.size(), 4, gainOf(-140.0)); // the last bit of 24: a converter with nothing connected
    CHECK(stateOf(take) == InputState::noRoom);
    take.room = room;
    scale(take.room, gainOf(-40.0));
    CHECK(stateOf(take) == InputState::good);
}

TEST_CASE("an honest pair is good, near and far", "[input]")
{
    for (unsigned seed = 1; seed <= 10; ++seed)
        for (const double lag : {0.0005, 0.002, 0.0311})
        {
            INFO("lag " << lag << " s, seed " << seed);
            CHECK(stateOf(makeTake(48000.0, lag, oneStroke(seed), 0.5)) == InputState::good);
        }
}

TEST_CASE("a leak at -25 or -40 dB is found and its gain is right within 1 dB, either way up", "[input]")
{
    for (const double rate : {44100.0, 48000.0, 192000.0})
        for (const double decibels : {-25.0, -40.0})
            for (const double sign : {1.0, -1.0})
                for (unsigned seed = 1; seed <= 5; ++seed)
                {
                    Take take = makeTake(rate, 0.0311, oneStroke(seed), 0.05);
                    addTo(take.room, take.spot, sign * gainOf(decibels));
                    const double found = leakOf(take);
                    const double foundDb = 20.0 * std::log10(std::abs(found) + 1e-12);
                    INFO("leak of " << decibels << " dB at " << rate << " Hz, seed " << seed << ": found " << foundDb
                                    << " dB, limit 1 dB");
                    CHECK(std::abs(foundDb - decibels) <= 1.0);
                    CHECK(found * sign > 0.0);
                }
}

TEST_CASE("an honest arrival is no leak, even half a millisecond to four after the spot", "[input]")
{
    for (const double lag : {0.0005, 0.001, 0.002, 0.003, 0.004, 0.031})
        for (const double gain : {0.3, 0.1, 0.03})
            for (unsigned seed = 1; seed <= 10; ++seed)
            {
                const double found = leakOf(makeTake(48000.0, lag, oneStroke(seed), gain));
                INFO("lag " << lag * 1e3 << " ms at gain " << gain << ", seed " << seed << ": said to leak by "
                            << found);
                CHECK(found == 0.0);
            }
}

TEST_CASE("tracks that begin together out of digital silence are no hit", "[input]")
{
    for (const double rate : {44100.0, 96000.0})
    {
        Hit hit;
        hit.resize(1, 1, static_cast<int>(0.3 * rate));
        hit.sampleRate = rate;
        hit.before = static_cast<int>(0.12 * rate);
        hit.onset = hit.before;
        const auto begin = [&](std::span<float> track, double seconds, unsigned seed)
        {
            const Samples values = noise(track.size(), seed, 0.001);
            const auto first = static_cast<std::size_t>(hit.before + seconds * rate);
            for (std::size_t i = 0; i < track.size(); ++i) track[i] = i < first ? 0.0F : values[i];
        };
        begin(hit.spot(0), 0.0, 1);
        begin(hit.room(0), 0.0, 2);
        CHECK(tracksBegin(AnalysisWindow(hit)));
        begin(hit.room(0), 0.031, 2); // the room answers later: a hit
        CHECK_FALSE(tracksBegin(AnalysisWindow(hit)));
        begin(hit.room(0), -0.12, 2); // the room was there before
        CHECK_FALSE(tracksBegin(AnalysisWindow(hit)));
    }
}

TEST_CASE("the spot's own signal sent back by routing is known at any lag, level and sign, between samples too",
          "[input]")
{
    for (const double rate : {44100.0, 48000.0, 96000.0})
        for (const double lag : {0.0021, 0.0213337, 0.03108412, 0.0700001})
            for (const double gain : {0.7, -0.2})
            {
                // As it comes out of another instance, with the dither of a 24-bit file on it.
                Take take = makeTake(rate, lag, fourStrokes(3));
                take.room = take.spot;
                Delay delay;
                delay.prepare(rate, 1, 0.2, 0.0);
                delay.setAlignment({lag, Polarity::normal}, false);
                delay.jump();
                float* channel = take.room.data();
                delay.process(&channel, static_cast<int>(take.room.size()));
                scale(take.room, gain);
                addTo(take.room, noise(take.room.size(), 2, gainOf(-140.0)));
                INFO(rate << " Hz, lag " << lag * 1e3 << " ms, gain " << gain);
                const Report report = heard(take);
                CHECK(report.input == InputState::ownSignal);
                CHECK_FALSE(report.lag);
                CHECK(report.confidence == 0.0);
                CHECK(report.reasons.front().find("own signal") != std::string::npos);
            }
}

TEST_CASE("a dry take outdoors is no routing: noise, the air's losses or one faint reflection tell", "[input]")
{
    for (unsigned seed = 1; seed <= 6; ++seed)
    {
        const double rate = 48000.0, lag = 0.0291;
        Take noisy = makeTake(rate, lag, fourStrokes(seed), 0.1, -90.0),
             reflected = makeTake(rate, lag, fourStrokes(seed), 0.1, -300.0);
        addStrokes(reflected.room, rate, fourStrokes(seed), lag + 0.004, 0.001); // -40 dB: grass
        Take dull = makeTake(rate, lag, fourStrokes(seed), 0.1, -300.0);
        // 1.75 dB at 10 kHz over 11 m (ISO 9613-1, from memory, computed): a first-order low-pass does as much there.
        float last = 0.0F;
        for (float& x : dull.room) x = last = 0.84F * x + 0.16F * last;
        for (const Take* take : {&noisy, &reflected, &dull})
        {
            INFO("seed " << seed << (take == &noisy ? ", noisy" : take == &dull ? ", dull" : ", reflected"));
            CHECK(heard(*take).input == InputState::good);
        }
    }
}
