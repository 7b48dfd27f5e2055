#include "Plugin/Processor.h"
#include "Plugin/Recording.h"
#include "Support/Catch.h"
#include "Support/RealtimeGuard.h"
#include "Support/Skip.h"

#include <atomic>
#include <cstdlib>
#include <fcntl.h>
#include <mutex>
#include <thread>
#include <unistd.h>

using namespace tarry;
using tarry::test::makeRecording;
using tarry::test::RealtimeGuard;

namespace
{
// Through a volatile pointer, so that the compiler cannot leave the call out.
void* (*volatile allocate)(std::size_t) = std::malloc;
void (*volatile release)(void*) = std::free;
std::mutex someLock;
} // namespace

TEST_CASE("the guard is able to fail: each planted offence is noted, and nothing else")
{
    if (!RealtimeGuard::works()) TARRY_SKIP("a sanitizer owns malloc");
    void* block = nullptr;
    const auto offences = [](auto&& act)
    {
        const RealtimeGuard guard;
        act();
        return std::string(guard.first()) + (guard.count() > 0 ? "" : " at all");
    };
    CHECK(offences([] {}) == "nothing at all");
    CHECK(offences([&] { block = allocate(100); }) == "malloc");
    CHECK(offences([&] { release(block); }) == "free");
    CHECK(offences([] { std::vector<float>(100).swap(*std::make_unique<std::vector<float>>()); }) == "operator new");
    CHECK(offences([] { const std::scoped_lock hold(someLock); }) == "pthread_mutex_lock");
    CHECK(offences([] { std::this_thread::sleep_for(std::chrono::microseconds(1)); }).find("nanosleep") !=
          std::string::npos);
    CHECK(offences([] { ::close(::open("/dev/null", O_RDONLY)); }) == "open");
    CHECK(offences([] { const juce::String text("on the heap, of a length that no small buffer holds"); }) !=
          "nothing at all");

    // Other threads may do as they like meanwhile.
    std::atomic<bool> stop{false};
    std::atomic<int> rounds{0};
    std::thread other(
        [&]
        {
            while (!stop)
            {
                release(allocate(100));
                ++rounds;
            }
        });
    const auto mine = offences(
        [&]
        {
            const int before = rounds;
            while (rounds < before + 100)
            {
            }
        });
    stop = true;
    other.join();
    CHECK(mine == "nothing at all");
}

TEST_CASE("processBlock never allocates, locks, waits or touches files, in any state and shape")
{
    if (!RealtimeGuard::works()) TARRY_SKIP("a sanitizer owns malloc");
    const juce::ScopedJuceInitialiser_GUI juce;
    const int spots = GENERATE(1, 2), rooms = GENERATE(0, 1, 2, 8);
    const double lookAhead = GENERATE(0.0, 0.01);
    const auto recording =
        makeRecording({.seed = 41, .hits = 7, .spotChannels = spots, .roomChannels = std::max(rooms, 1)});

    Processor processor;
    juce::AudioProcessor::BusesLayout layout;
    const auto set = [](int n)
    { return n == 0 ? juce::AudioChannelSet::disabled() : juce::AudioChannelSet::canonicalChannelSet(n); };
    layout.inputBuses.add(set(spots));
    layout.inputBuses.add(set(rooms));
    layout.outputBuses.add(set(spots));
    REQUIRE(processor.setBusesLayout(layout));
    processor.setSetup({.lookAhead = lookAhead, .roomArrivesLate = rooms == 1});
    processor.prepareToPlay(48000.0, 1024);
    auto& p = processor.parameters;
    auto& engine = processor.engine();

    juce::AudioBuffer<float> buffer(spots + rooms, 1024);
    juce::MidiBuffer midi;
    const int sizes[] = {1, 64, 480, 1024, 333};
    int offences = 0, block = 0;
    std::string first;
    std::size_t at = 0;
    const auto play = [&](int blocks)
    {
        for (int i = 0; i < blocks; ++i)
        {
            const int n = sizes[block++ % 5];
            if (at + static_cast<std::size_t>(n) > recording.frames()) at = 0;
            for (int c = 0; c < spots; ++c)
                buffer.copyFrom(c, 0, recording.spot[static_cast<std::size_t>(c)].data() + at, n);
            for (int c = 0; c < rooms; ++c)
                buffer.copyFrom(spots + c, 0, recording.room[static_cast<std::size_t>(c)].data() + at, n);
            at += static_cast<std::size_t>(n);
            juce::AudioBuffer<float> now(buffer.getArrayOfWritePointers(), spots + rooms, n);
            const RealtimeGuard guard;
            processor.processBlock(now, midi);
            if (guard.count() > 0 && offences++ == 0) first = guard.first();
        }
    };

    play(600); // measuring, through hits, with the worker at work
    *p.freezeWhenSettled = false;
    play(100);
    *p.aligned = false;
    play(20);
    *p.aligned = true;
    *p.lean = 7.5F;
    play(20);
    *p.wholeSamples = true;
    *p.blend = true;
    play(20);
    *p.blendRoom = -12.0F;
    *p.eachSide = true;
    play(20);
    *p.reach = 120.0F; // the worker sets the measuring up anew, while audio goes on
    *p.roomChannel = 2.0F;
    *p.clap = true;
    play(100);
    juce::Thread::sleep(30);
    play(100);
    *p.bypass = true;
    play(20);
    *p.bypass = false;
    engine.setByHand(Sides{{{{0.0312345, Polarity::inverted}, {0.03, Polarity::normal}}}}); // frozen
    play(50);
    engine.nudge(0.00001);
    play(50);
    juce::MessageManager::getInstance()->runDispatchLoopUntil(20); // the measure parameter hears that it is frozen
    CHECK_FALSE(p.measure->get());
    *p.measure = true;
    play(5);
    for (int i = 0; i < 300 && engine.phase() == Phase::frozen; ++i) juce::Thread::sleep(10);
    CHECK(engine.phase() != Phase::frozen);
    play(200);
    engine.undo();
    play(50);
    processor.setSetup({.lookAhead = 0.02, .roomArrivesLate = false});
    play(50);
    {
        const RealtimeGuard guard;
        processor.reset();
        if (guard.count() > 0 && offences++ == 0) first = guard.first();
    }
    INFO(spots << " + " << rooms << " channels, look-ahead " << lookAhead << " s: first offence " << first);
    CHECK(offences == 0);
    processor.releaseResources();
}
