#include "Core/Listening.h"

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

void feed(Listening& listening, const Take& take, std::size_t from, std::size_t to, std::size_t block = 480)
{
    for (; from < to; from += block)
    {
        const float *spot = take.spot.data() + from, *room = take.room.data() + from;
        listening.process(&spot, &room, static_cast<int>(std::min(block, to - from)));
    }
}
} // namespace

TEST_CASE("the same report for any block size and any cut", "[listening]")
{
    const hall::Scene scene = sceneOf(1, 2);
    ListenSettings settings = at(48000.0);
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
        Listening listening;
        listening.prepare(settings);
        for (std::size_t from = 0; from < scene.spot[0].size();)
        {
            const std::size_t count = std::min<std::size_t>(1 + engine() % 8192U, scene.spot[0].size() - from);
            listening.process(pointers(scene.spot, from).data(), pointers(scene.room, from).data(),
                              static_cast<int>(count));
            from += count;
            if (engine() % 3U == 0) listening.work();
        }
        listening.finish();
        listening.work();
        INFO("cuts and work at random, seed " << seed);
        CHECK(allOf(listening.report()) == reference);
    }
}

TEST_CASE("worked on after each block or once at the end: the same report", "[listening]")
{
    const Take take = takeOf(0.0311, 2);
    const std::string often = allOf(heard(take));
    Listening listening;
    listening.prepare(at(48000.0));
    feed(listening, take, 0, take.spot.size());
    listening.finish();
    CHECK(listening.work());
    CHECK(allOf(listening.report()) == often);
    CHECK_FALSE(listening.work()); // nothing new
}

TEST_CASE("before anything was heard there is a report, and it says why it says nothing", "[listening]")
{
    Listening listening;
    listening.prepare(at(48000.0));
    const Report report = listening.report();
    CHECK(report.verdict == Verdict::unsure);
    CHECK_FALSE(report.lag);
    CHECK(report.hitsFound == 0);
    CHECK_FALSE(report.reasons.empty());
    CHECK_FALSE(listening.work());
}

TEST_CASE("the number of the report grows with each new report and only then", "[listening]")
{
    const Take take = takeOf(0.0311, 3);
    Listening listening;
    listening.prepare(at(48000.0));
    unsigned number = listening.reportNumber();
    int hits = 0;
    for (std::size_t from = 0; from < take.spot.size(); from += 480)
    {
        feed(listening, take, from, std::min(from + 480, take.spot.size()));
        const bool changed = listening.work();
        CHECK((listening.reportNumber() != number) == changed);
        number = listening.reportNumber();
        const int found = listening.report().hitsFound;
        CHECK(found >= hits);
        hits = found;
    }
    CHECK(hits >= 4);
}

TEST_CASE("startOver forgets what was heard, and what is heard next is as if it were the first", "[listening]")
{
    const Take before = takeOf(0.0452, 4), after = takeOf(0.0311, 5);
    Listening fresh, listening;
    for (Listening* one : {&fresh, &listening}) one->prepare(at(48000.0));
    feed(listening, before, 0, before.spot.size() / 2);
    listening.work();
    feed(listening, before, before.spot.size() / 2, before.spot.size() - 12000); // hits wait in the queue, or fill
    listening.startOver();
    CHECK(listening.work());
    CHECK(listening.report().hitsFound == 0);
    CHECK_FALSE(listening.report().lag);

    for (Listening* one : {&fresh, &listening})
    {
        feed(*one, after, 0, after.spot.size());
        one->finish();
        one->work();
    }
    CHECK(allOf(listening.report()) == allOf(fresh.report()));
    CHECK(listening.report().lag);
}

TEST_CASE("startOver forgets hits that were missed, too", "[listening]")
{
    Listening listening;
    listening.prepare(at(48000.0));
    const Take many = takeOf(0.0311, 6, 40);
    feed(listening, many, 0, many.spot.size()); // nobody works: the queue runs full
    listening.finish();
    listening.work();
    CHECK(listening.report().hitsLost > 0);
    CHECK(listening.report().hitsFound + listening.report().hitsLost == 40);
    listening.startOver();
    listening.work();
    CHECK(listening.report().hitsLost == 0);
}

TEST_CASE("prepare again: other settings, nothing remembered", "[listening]")
{
    Listening listening;
    listening.prepare(at(44100.0));
    const Take take = takeOf(0.0311, 7);
    feed(listening, take, 0, take.spot.size());
    ListenSettings settings = at(48000.0);
    settings.reach = 0.05;
    listening.prepare(settings);
    CHECK(listening.settings() == settings);
    CHECK_FALSE(listening.work());
    feed(listening, take, 0, take.spot.size());
    listening.finish();
    listening.work();
    CHECK(allOf(listening.report()) == allOf(heard(settings, {take.spot}, {take.room})));
    settings.sampleRate = std::numeric_limits<double>::quiet_NaN();
    CHECK_THROWS_AS(listening.prepare(settings), std::invalid_argument);
}

TEST_CASE("NaN and infinite samples are survived and the lag is still found", "[listening]")
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

TEST_CASE("the audio thread's calls keep to its rules", "[listening]")
{
    if (!RealtimeGuard::works()) TARRY_SKIP("a sanitizer owns malloc");
    const Take take = takeOf(0.0311, 9);
    Listening listening;
    listening.prepare(at(48000.0));
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
        guarded([&] { feed(listening, take, from, std::min(from + 480, take.spot.size())); });
        if (from % 4800 == 0) listening.work();
        if (from == 48000) guarded([&] { listening.startOver(); });
        guarded([&] { static_cast<void>(listening.reportNumber()); });
    }
    guarded([&] { listening.finish(); });
    listening.work();
    INFO("first: " << first);
    CHECK(offences == 0);
    CHECK(listening.report().hitsFound > 0);
}

TEST_CASE("audio, worker, screen and someone who starts over, all at once", "[listening][threads]")
{
    const Take take = takeOf(0.0311, 10, 8);
    Listening listening;
    listening.prepare(at(48000.0));
    std::atomic<bool> stop{false};
    std::atomic<int> wrong{0}, read{0};
    std::thread worker(
        [&]
        {
            while (!stop)
                if (!listening.work()) std::this_thread::yield();
        });
    std::thread screen(
        [&]
        {
            unsigned number = 0;
            while (!stop)
            {
                if (listening.reportNumber() == number)
                {
                    std::this_thread::yield();
                    continue;
                }
                number = listening.reportNumber();
                const Report report = listening.report();
                ++read;
                wrong += report.reasons.empty() ? 1 : 0;
                wrong += report.lag && std::abs(*report.lag - 0.0311) > 0.0005 ? 1 : 0;
            }
        });
    for (int round = 0; round < 6; ++round)
    {
        feed(listening, take, 0, take.spot.size());
        if (round % 2 == 0) listening.startOver();
    }
    // The last round on its own. This stream comes faster than real time, so the worker first empties the queue: one
    // report may have been under way, the next has seen all there was.
    for (int reports = 0; reports < 2; ++reports)
    {
        const unsigned number = listening.reportNumber();
        listening.startOver();
        while (listening.reportNumber() == number) std::this_thread::yield();
    }
    feed(listening, take, 0, take.spot.size());
    listening.finish();
    stop = true;
    worker.join();
    screen.join();
    while (listening.work())
    {
    }
    CHECK(wrong == 0);
    CHECK(read > 0);
    const Report report = listening.report();
    CHECK(report.hitsFound == 8);
    CHECK(report.hitsLost == 0);
    REQUIRE(report.lag);
    CHECK(std::abs(*report.lag - 0.0311) <= 1e-5);
}
