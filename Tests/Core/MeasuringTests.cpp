#include "Core/Measuring.h"

#include "Core/Heard.h"
#include "Support/Catch.h"
#include "Support/RealtimeGuard.h"
#include "Support/Skip.h"

#include <atomic>
#include <limits>
#include <random>
#include <stdexcept>
#include <thread>

using namespace tarry;
using namespace tarry::test;

namespace
{
hall::Scene sceneOf(unsigned seed, int roomChannels = 1)
{
    hall::SceneSpec spec;
    spec.seed = seed;
    spec.hits = 4;
    spec.roomChannels = roomChannels;
    return hall::makeScene(spec);
}

Take takeOf(double lag, unsigned seed, int hits = 5)
{
    Strokes strokes;
    strokes.times = evenTimes(hits, 0.3, 0.4);
    strokes.seed = seed;
    return makeTake(48000.0, lag, strokes);
}

void feed(Measuring& measuring, const Take& take, std::size_t from, std::size_t to, std::size_t block = 480)
{
    for (; from < to; from += block)
    {
        const float *spot = take.spot.data() + from, *room = take.room.data() + from;
        measuring.process(&spot, &room, static_cast<int>(std::min(block, to - from)));
    }
}
} // namespace

TEST_CASE("the same report for any block size and any cut", "[measuring]")
{
    const hall::Scene scene = sceneOf(1, 2);
    MeasureSettings settings = at(48000.0);
    const std::string reference = allOf(heard(settings, scene.spot, scene.room, 512));
    for (const std::size_t block : {1U, 2U, 7U, 64U, 255U, 480U, 1024U, 4096U, 8192U})
    {
        INFO("blocks of " << block);
        CHECK(allOf(heard(settings, scene.spot, scene.room, block)) == reference);
    }
    settings.roomChannels = 2;
    for (unsigned seed = 1; seed <= 4; ++seed)
    {
        std::mt19937 engine(seed);
        Measuring measuring;
        measuring.prepare(settings);
        for (std::size_t from = 0; from < scene.spot[0].size();)
        {
            const std::size_t count = std::min<std::size_t>(1 + engine() % 8192U, scene.spot[0].size() - from);
            measuring.process(pointers(scene.spot, from).data(), pointers(scene.room, from).data(),
                              static_cast<int>(count));
            from += count;
            if (engine() % 3U == 0) measuring.work();
        }
        measuring.finish();
        measuring.work();
        INFO("cuts and work at random, seed " << seed);
        CHECK(allOf(measuring.report()) == reference);
    }
}

TEST_CASE("worked on after each block or once at the end: the same report", "[measuring]")
{
    const Take take = takeOf(0.0311, 2);
    const std::string often = allOf(heard(take));
    Measuring measuring;
    measuring.prepare(at(48000.0));
    feed(measuring, take, 0, take.spot.size());
    measuring.finish();
    CHECK(measuring.work());
    CHECK(allOf(measuring.report()) == often);
    CHECK_FALSE(measuring.work()); // nothing new
}

TEST_CASE("before anything was heard there is a report, and it says why it says nothing", "[measuring]")
{
    Measuring measuring;
    measuring.prepare(at(48000.0));
    const Report report = measuring.report();
    CHECK(report.verdict == Verdict::unsure);
    CHECK_FALSE(report.lag);
    CHECK(report.hitsFound == 0);
    CHECK_FALSE(report.reasons.empty());
    CHECK_FALSE(measuring.work());
}

TEST_CASE("the number of the report grows with each new report and only then", "[measuring]")
{
    const Take take = takeOf(0.0311, 3);
    Measuring measuring;
    measuring.prepare(at(48000.0));
    unsigned number = measuring.reportNumber();
    int hits = 0;
    for (std::size_t from = 0; from < take.spot.size(); from += 480)
    {
        feed(measuring, take, from, std::min(from + 480, take.spot.size()));
        const bool changed = measuring.work();
        CHECK((measuring.reportNumber() != number) == changed);
        number = measuring.reportNumber();
        const int found = measuring.report().hitsFound;
        CHECK(found >= hits);
        hits = found;
    }
    CHECK(hits >= 4);
}

TEST_CASE("startOver forgets what was heard, and what is heard next is as if it were the first", "[measuring]")
{
    const Take before = takeOf(0.0452, 4), after = takeOf(0.0311, 5);
    Measuring fresh, measuring;
    for (Measuring* one : {&fresh, &measuring}) one->prepare(at(48000.0));
    feed(measuring, before, 0, before.spot.size() / 2);
    measuring.work();
    feed(measuring, before, before.spot.size() / 2, before.spot.size() - 12000); // hits wait in the queue, or fill
    measuring.startOver();
    CHECK(measuring.work());
    CHECK(measuring.report().hitsFound == 0);
    CHECK_FALSE(measuring.report().lag);

    for (Measuring* one : {&fresh, &measuring})
    {
        feed(*one, after, 0, after.spot.size());
        one->finish();
        one->work();
    }
    CHECK(allOf(measuring.report()) == allOf(fresh.report()));
    CHECK(measuring.report().lag);
}

TEST_CASE("startOver forgets hits that were missed, too", "[measuring]")
{
    Measuring measuring;
    measuring.prepare(at(48000.0));
    const Take many = takeOf(0.0311, 6, 40);
    feed(measuring, many, 0, many.spot.size()); // nobody works: the queue runs full
    measuring.finish();
    measuring.work();
    CHECK(measuring.report().hitsLost > 0);
    CHECK(measuring.report().hitsFound + measuring.report().hitsLost == 40);
    measuring.startOver();
    measuring.work();
    CHECK(measuring.report().hitsLost == 0);
}

TEST_CASE("prepare again: other settings, nothing remembered", "[measuring]")
{
    Measuring measuring;
    measuring.prepare(at(44100.0));
    const Take take = takeOf(0.0311, 7);
    feed(measuring, take, 0, take.spot.size());
    MeasureSettings settings = at(48000.0);
    settings.reach = 0.05;
    measuring.prepare(settings);
    CHECK(measuring.settings() == settings);
    CHECK_FALSE(measuring.work());
    feed(measuring, take, 0, take.spot.size());
    measuring.finish();
    measuring.work();
    CHECK(allOf(measuring.report()) == allOf(heard(settings, {take.spot}, {take.room})));
    settings.sampleRate = std::numeric_limits<double>::quiet_NaN();
    CHECK_THROWS_AS(measuring.prepare(settings), std::invalid_argument);
}

TEST_CASE("NaN and infinite samples are survived and the lag is still found", "[measuring]")
{
    Take take = takeOf(0.0311, 8);
    std::mt19937 engine(8);
    for (int i = 0; i < 200; ++i)
        (i % 2 == 0 ? take.spot : take.room)[engine() % take.spot.size()] =
            i % 3 == 0 ? std::numeric_limits<float>::infinity() : std::numeric_limits<float>::quiet_NaN();
    const Report report = heard(take);
    INFO("seed 8");
    REQUIRE(report.lag);
    CHECK(std::abs(*report.lag - 0.0311) <= 0.0005);
}

TEST_CASE("the audio thread's calls keep to its rules", "[measuring]")
{
    if (!RealtimeGuard::works()) TARRY_SKIP("a sanitizer owns malloc");
    const Take take = takeOf(0.0311, 9);
    Measuring measuring;
    measuring.prepare(at(48000.0));
    int offences = 0;
    std::string first;
    const auto guarded = [&](auto&& act)
    {
        const RealtimeGuard guard;
        act();
        if (offences == 0 && guard.count() > 0) first = guard.first();
        offences += guard.count();
    };
    for (std::size_t from = 0; from < take.spot.size(); from += 480)
    {
        guarded([&] { feed(measuring, take, from, std::min(from + 480, take.spot.size())); });
        if (from % 4800 == 0) measuring.work();
        if (from == 48000) guarded([&] { measuring.startOver(); });
        guarded([&] { static_cast<void>(measuring.reportNumber()); });
    }
    guarded([&] { measuring.finish(); });
    measuring.work();
    INFO("first: " << first);
    CHECK(offences == 0);
    CHECK(measuring.report().hitsFound > 0);
}

TEST_CASE("hits that come faster than the worker is at them do not keep it from reporting", "[measuring][threads]")
{
    Strokes roll;
    roll.times = evenTimes(60, 0.3, 0.05);
    const Take take = makeTake(48000.0, 0.0311, roll);
    Measuring measuring;
    measuring.prepare(at(48000.0));
    std::atomic<bool> reported{false};
    std::thread audio(
        [&] // many times as fast as real time: a machine with too little left for the worker
        {
            for (int round = 0; round < 100 && !reported; ++round) feed(measuring, take, 0, take.spot.size());
        });
    while (!measuring.work()) std::this_thread::yield();
    reported = true;
    audio.join();
    CHECK(measuring.report().hitsFound <= 8); // as many as can wait at a time
}

TEST_CASE("audio, worker, screen and someone who starts over, all at once", "[measuring][threads]")
{
    const Take take = takeOf(0.0311, 10, 8);
    Measuring measuring;
    measuring.prepare(at(48000.0));
    std::atomic<bool> stop{false};
    std::atomic<int> wrong{0}, read{0};
    std::thread worker(
        [&]
        {
            while (!stop)
                if (!measuring.work()) std::this_thread::yield();
        });
    std::thread screen(
        [&]
        {
            unsigned number = 0;
            while (!stop)
            {
                if (measuring.reportNumber() == number)
                {
                    std::this_thread::yield();
                    continue;
                }
                number = measuring.reportNumber();
                const Report report = measuring.report();
                ++read;
                wrong += report.reasons.empty() ? 1 : 0;
                wrong += report.lag && std::abs(*report.lag - 0.0311) > 0.0005 ? 1 : 0;
            }
        });
    for (int round = 0; round < 6; ++round)
    {
        feed(measuring, take, 0, take.spot.size());
        if (round % 2 == 0) measuring.startOver();
    }
    // The last round on its own. This stream comes faster than real time, so the worker first empties the queue: one
    // report may have been under way, the next has seen all there was.
    for (int reports = 0; reports < 2; ++reports)
    {
        const unsigned number = measuring.reportNumber();
        measuring.startOver();
        while (measuring.reportNumber() == number) std::this_thread::yield();
    }
    feed(measuring, take, 0, take.spot.size());
    measuring.finish();
    stop = true;
    worker.join();
    screen.join();
    while (measuring.work())
    {
    }
    CHECK(wrong == 0);
    CHECK(read > 0);
    const Report report = measuring.report();
    CHECK(report.hitsFound == 8);
    CHECK(report.hitsLost == 0);
    REQUIRE(report.lag);
    CHECK(std::abs(*report.lag - 0.0311) <= 1e-5);
}
