#include "Plugin/Processor.h"
#include "Plugin/Recording.h"
#include "Support/Catch.h"

#include <atomic>
#include <random>
#include <thread>

using namespace tarry;
using tarry::test::makeRecording;

namespace
{
using Layout = juce::AudioProcessor::BusesLayout;

juce::AudioChannelSet set(int channels)
{
    return channels == 0 ? juce::AudioChannelSet::disabled() : juce::AudioChannelSet::canonicalChannelSet(channels);
}

Layout layout(int spot, int room)
{
    Layout wanted;
    wanted.inputBuses.add(set(spot));
    wanted.inputBuses.add(set(room));
    wanted.outputBuses.add(set(spot));
    return wanted;
}

/// Plays noise and returns true where the output is the spot, sample by sample: nothing is held, nothing is added.
bool passes(Processor& processor, int spot, int room)
{
    std::mt19937 random(7);
    std::normal_distribution<float> noise;
    juce::AudioBuffer<float> buffer(spot + room, 300);
    juce::MidiBuffer midi;
    for (int block = 0; block < 4; ++block)
    {
        for (int channel = 0; channel < spot + room; ++channel)
            for (int k = 0; k < 300; ++k) buffer.setSample(channel, k, noise(random));
        juce::AudioBuffer<float> before;
        before.makeCopyOf(buffer);
        processor.processBlock(buffer, midi);
        for (int channel = 0; channel < spot; ++channel)
            for (int k = 0; k < 300; ++k)
                if (buffer.getSample(channel, k) != before.getSample(channel, k)) return false;
    }
    return true;
}

juce::MemoryBlock saved(Processor& processor)
{
    juce::MemoryBlock blob;
    processor.getStateInformation(blob);
    return blob;
}

/// Lets the message loop have its turn: a new look-ahead waits for it.
void pump()
{
    juce::MessageManager::getInstance()->runDispatchLoopUntil(30);
}

void load(Processor& processor, const juce::MemoryBlock& blob)
{
    processor.setStateInformation(blob.getData(), static_cast<int>(blob.getSize()));
}
} // namespace

TEST_CASE("buses: every mono and stereo combination, in any order of activation")
{
    const juce::ScopedJuceInitialiser_GUI juce;
    Processor processor;
    const std::vector<std::pair<int, int>> shapes{{1, 1}, {1, 2}, {2, 1}, {2, 2}, {1, 0}, {2, 0}};
    for (const auto& from : shapes)
        for (const auto& to : shapes)
            for (const auto& [spot, room] : {from, to})
            {
                INFO(spot << " + " << room << " channels");
                REQUIRE(processor.setBusesLayout(layout(spot, room)));
                processor.prepareToPlay(48000.0, 256); // and then blocks larger than promised
                CHECK(passes(processor, spot, room));
                processor.releaseResources();
            }

    CHECK_FALSE(processor.checkBusesLayoutSupported(layout(0, 1)));
    CHECK_FALSE(processor.checkBusesLayoutSupported(layout(3, 1)));
    for (const int channels : {3, 4, 6, 8}) // a tree, a quad, 5.1, 7.1
    {
        INFO("a room of " << channels);
        REQUIRE(processor.setBusesLayout(layout(1, channels)));
        processor.prepareToPlay(48000.0, 256);
        CHECK(passes(processor, 1, channels));
    }
    REQUIRE(processor.setBusesLayout(layout(1, 3)));
    CHECK(processor.roomChannelName(0) == "left");
    CHECK(processor.roomChannelName(2) == "centre");
    CHECK_FALSE(processor.checkBusesLayoutSupported(layout(1, 9)));
    auto unequal = layout(1, 1);
    unequal.outputBuses.set(0, set(2));
    CHECK_FALSE(processor.checkBusesLayoutSupported(unequal));
}

TEST_CASE("buses: the side-chain switched on, off and on by itself")
{
    const juce::ScopedJuceInitialiser_GUI juce;
    Processor processor;
    REQUIRE(processor.getBus(true, 1)->isEnabledByDefault());
    for (const bool enabled : {false, true, false, true})
    {
        REQUIRE(processor.getBus(true, 1)->enable(enabled));
        processor.prepareToPlay(44100.0, 512);
        CHECK(processor.engine().shape().roomChannels == (enabled ? 2 : 0));
        CHECK(passes(processor, 2, enabled ? 2 : 0));
        processor.releaseResources();
    }
}

TEST_CASE("a processor that was never prepared, or gets too few channels, leaves the sound alone")
{
    const juce::ScopedJuceInitialiser_GUI juce;
    Processor processor;
    CHECK(passes(processor, 2, 2));
    processor.prepareToPlay(48000.0, 512);
    CHECK(passes(processor, 2, 0));
}

TEST_CASE("state: frozen in one instance, reopened frozen in another, at another rate")
{
    const juce::ScopedJuceInitialiser_GUI juce;
    Processor first;
    first.prepareToPlay(48000.0, 512);
    first.engine().setByHand(Sides::both({0.0310841, Polarity::inverted}));
    *first.parameters.lean = -3.5F;
    *first.parameters.blend = true;
    first.setSetup({.lookAhead = 0.02, .roomArrivesLate = false, .temperature = 12.0});
    first.screen.set("unit", "feet");
    CHECK(first.getLatencySamples() == 0); // never told from within a host's own call
    pump();
    CHECK(first.getLatencySamples() == 960);
    const auto blob = saved(first);

    Processor second;
    const bool preparedBefore = GENERATE(true, false);
    if (preparedBefore) second.prepareToPlay(96000.0, 512);
    load(second, blob);
    if (!preparedBefore) second.prepareToPlay(96000.0, 512);
    pump();
    CHECK(second.engine().phase() == Phase::frozen);
    CHECK(second.engine().held() == Sides::both({0.0310841, Polarity::inverted}));
    CHECK(second.engine().byHand());
    CHECK(second.parameters.lean->get() == -3.5F);
    CHECK_FALSE(second.parameters.blend->get()); // never opens with the blend on
    CHECK_FALSE(second.parameters.measure->get());
    CHECK(second.setup() == first.setup());
    CHECK(second.getLatencySamples() == 1920);
    CHECK(second.screen.all() == first.screen.all());
    CHECK(passes(second, 2, 2) == false); // it delays
}

TEST_CASE("state: every parameter comes back but the blend, and a state without it gives its default")
{
    const juce::ScopedJuceInitialiser_GUI juce;
    for (const float end : {0.0F, 1.0F})
    {
        Processor first, second;
        for (auto* parameter : first.getParameters()) parameter->setValue(end);
        for (auto* parameter : second.getParameters()) parameter->setValue(1.0F - end);
        const auto blob = saved(first);
        load(second, blob);
        for (int i = 0; i < first.getParameters().size(); ++i)
        {
            const auto* was = first.getParameters()[i];
            const auto* is = second.getParameters()[i];
            INFO(was->getName(64) << " was " << was->getValue() << ", came back as " << is->getValue());
            if (is == second.parameters.blend)
                CHECK(is->getValue() == 0.0F);
            else if (is != second.parameters.measure) // shows the phase, which goes its own way
                CHECK(is->getValue() == was->getValue());
        }
        const std::string old = R"({"tarry_state":1,"parameters":{"lean":8.0}})"; // of a Tarry that knew no other
        second.setStateInformation(old.data(), static_cast<int>(old.size()));
        for (auto* parameter : second.getParameters())
        {
            INFO(parameter->getName(64) << " is " << parameter->getValue());
            if (parameter == second.parameters.lean)
                CHECK(second.parameters.lean->get() == 8.0F);
            else
                CHECK(parameter->getValue() == parameter->getDefaultValue());
        }
    }
}

TEST_CASE("state: saved, loaded and saved again at once it is the same, whatever was asked for just before")
{
    const juce::ScopedJuceInitialiser_GUI juce;
    const bool prepared = GENERATE(false, true), locked = GENERATE(false, true), freezing = GENERATE(false, true);
    CAPTURE(prepared, locked, freezing);
    Processor processor;
    if (prepared) processor.prepareToPlay(48000.0, 300);
    if (!freezing) processor.engine().freeze(processor.parameters.controls());
    pump();
    if (locked) processor.parameters["lock"].setValueNotifyingHost(1.0F);
    if (locked && prepared) REQUIRE(passes(processor, 2, 2)); // from here on
    processor.parameters.measure->setValueNotifyingHost(freezing ? 0.0F : 1.0F);
    const auto first = saved(processor);
    load(processor, first);
    CHECK(saved(processor).toString() == first.toString());
    CHECK((processor.engine().phase() == Phase::frozen) == (freezing != locked)); // under a lock the wish waits
    if (locked) return;
    CHECK(processor.parameters.measure->get() != freezing);
}

TEST_CASE("state: saved while it measures again, it opens frozen on what was held, and the measure parameter says so")
{
    const juce::ScopedJuceInitialiser_GUI juce;
    Processor first;
    first.engine().setByHand(Sides::both({0.02, Polarity::inverted}));
    first.engine().measure();
    REQUIRE(first.engine().phase() == Phase::measuring);
    Processor second;
    load(second, saved(first));
    CHECK(second.engine().phase() == Phase::frozen);
    CHECK(second.engine().held() == Sides::both({0.02, Polarity::inverted}));
    CHECK_FALSE(second.parameters.measure->get());
}

TEST_CASE("look-ahead: the host is told a latency once for each change, never while audio runs")
{
    struct Host : juce::AudioProcessorListener
    {
        void audioProcessorParameterChanged(juce::AudioProcessor*, int, float) override {}
        void audioProcessorChanged(juce::AudioProcessor*, const ChangeDetails& details) override
        {
            if (details.latencyChanged) ++told;
        }
        int told = 0;
    };
    const juce::ScopedJuceInitialiser_GUI juce;
    Host host;
    Processor processor;
    processor.addListener(&host);
    processor.prepareToPlay(48000.0, 512);
    CHECK(host.told == 0); // none to begin with
    processor.setSetup({.lookAhead = 0.02});
    CHECK(host.told == 0);
    pump();
    CHECK(host.told == 1);
    CHECK(processor.getLatencySamples() == 960);
    processor.setSetup({.lookAhead = 0.02, .temperature = 5.0});
    pump();
    processor.prepareToPlay(48000.0, 64);
    CHECK(host.told == 1);
    passes(processor, 2, 2);
    for (auto* parameter : processor.getParameters())
        for (const float value : {0.0F, 1.0F, 0.5F})
        {
            parameter->setValueNotifyingHost(value);
            passes(processor, 2, 2);
        }
    CHECK(host.told == 1);
    processor.prepareToPlay(96000.0, 64);
    CHECK(host.told == 2);
    CHECK(processor.getLatencySamples() == 1920);
    processor.removeListener(&host);
}

TEST_CASE("look-ahead: a preset chosen by the host on a thread of its own never waits for anything, and counts later")
{
    const juce::ScopedJuceInitialiser_GUI juce;
    Processor processor;
    processor.prepareToPlay(48000.0, 512);
    int latencyWithin = -1;
    std::thread host(
        [&]
        {
            processor.setCurrentProgram(processor.getNumPrograms() - 1); // 'Late spot'
            latencyWithin = processor.getLatencySamples();
        });
    host.join();
    CHECK(latencyWithin == 0);
    pump();
    CHECK(processor.getLatencySamples() == 960);
}

TEST_CASE("state: saved and loaded from other threads while audio runs")
{
    const juce::ScopedJuceInitialiser_GUI juce;
    Processor processor;
    processor.prepareToPlay(48000.0, 256);
    Processor other;
    other.engine().setByHand(Sides::both({0.01, Polarity::inverted}));
    other.setSetup({.lookAhead = 0.0, .temperature = 7.0});
    const auto frozen = saved(other), fresh = saved(processor);
    std::atomic<bool> stop{false};
    std::atomic<int> loads{0};
    std::thread loader(
        [&]
        {
            for (; loads < 200; ++loads) load(processor, loads % 2 == 0 ? frozen : fresh);
            load(processor, frozen);
            stop = true;
        });
    std::thread saver(
        [&]
        {
            while (!stop) CHECK_NOTHROW((void)saved(processor).getSize());
        });
    int blocks = 0;
    for (; !stop; ++blocks) passes(processor, 2, 2);
    loader.join();
    saver.join();
    INFO(blocks << " stretches of audio while 200 states were loaded");
    CHECK(blocks > 0);
    CHECK(processor.engine().held() == Sides::both({0.01, Polarity::inverted}));
    CHECK(processor.setup().temperature == 7.0);
    pump();
    CHECK_FALSE(processor.parameters.measure->get());
}

TEST_CASE("names: the spot is called as the host's track until somebody names it; saved with the session")
{
    const juce::ScopedJuceInitialiser_GUI juce;
    Processor first, second;
    first.updateTrackProperties({"Snare", {}});
    CHECK(first.names().spot == "Snare");
    first.updateTrackProperties({"Snare top", {}});
    CHECK(first.names().spot == "Snare top");
    auto names = first.names();
    names.spot = "Piccolo";
    names.cue = "4m12";
    first.setNames(names);
    first.updateTrackProperties({"Audio 7", {}});
    CHECK(first.names().spot == "Piccolo");
    load(second, saved(first));
    CHECK(second.names() == names);
    second.updateTrackProperties({"Audio 7", {}});
    CHECK(second.names() == names);
}

TEST_CASE("an offline render that is not settled says so in the measure parameter's text")
{
    const juce::ScopedJuceInitialiser_GUI juce;
    Processor processor;
    processor.setNonRealtime(true);
    processor.prepareToPlay(48000.0, 512);
    const juce::AudioProcessorParameter& measure = *processor.parameters.measure;
    CHECK(measure.getText(1.0F, 64) == "Measuring");
    CHECK(passes(processor, 2, 2));
    pump();
    CHECK(measure.getText(1.0F, 64) == "Rendered as recorded: not settled");
    CHECK(measure.getValueForText(measure.getText(1.0F, 64)) == 1.0F);
    processor.setNonRealtime(false);
    processor.engine().setLagByHand(0.02);
    pump();
    CHECK(measure.getText(0.0F, 64) == "Frozen");
    processor.engine().measure();
    pump();
    CHECK(measure.getText(1.0F, 64) == "Measuring");
}

TEST_CASE("what is held and told survives save and reopen in the processor, and a new measuring without hits")
{
    const juce::ScopedJuceInitialiser_GUI juce;
    Processor first, second;
    Report report;
    report.lag = 0.031;
    report.polarity = Polarity::inverted;
    report.confidence = 0.97;
    report.verdict = Verdict::align;
    report.hitsFound = report.hitsUsed = report.hitsAgreeing = 7;
    report.reasons = {"Seven hits agree."};
    first.engine().restore({Phase::frozen, Sides::both({0.031, Polarity::inverted}), false, 0.97, Verdict::align,
                            std::make_shared<const Report>(report)});
    load(second, saved(first));
    const auto told = second.engine().report();
    CHECK(told.verdict == Verdict::align);
    CHECK(told.confidence == 0.97);
    CHECK(told.reasons == report.reasons);
    CHECK(told.hitsAgreeing == 7);
    second.engine().measure();
    CHECK(second.engine().report().reasons == report.reasons);
}

TEST_CASE("the state tells what the inputs are, with nothing held, for whoever looks into it")
{
    const juce::ScopedJuceInitialiser_GUI juce;
    auto recording = makeRecording({.seed = 32, .hits = 4});
    const auto [expected, name] =
        GENERATE(std::pair(InputState::good, "good"), std::pair(InputState::noRoom, "no room"),
                 std::pair(InputState::sameSignal, "same signal"), std::pair(InputState::ownSignal, "own signal"));
    if (expected == InputState::noRoom) std::fill(recording.room[0].begin(), recording.room[0].end(), 0.0F);
    if (expected == InputState::sameSignal || expected == InputState::ownSignal) recording.room[0] = recording.spot[0];
    if (expected == InputState::ownSignal)
        std::rotate(recording.room[0].rbegin(), recording.room[0].rbegin() + 1200, recording.room[0].rend());
    Processor processor;
    processor.setNonRealtime(true);
    REQUIRE(processor.setBusesLayout(layout(1, 1)));
    processor.prepareToPlay(48000.0, 256);
    juce::AudioBuffer<float> buffer(2, 256);
    juce::MidiBuffer midi;
    for (std::size_t at = 0; at + 256 <= recording.frames(); at += 256)
    {
        buffer.copyFrom(0, 0, recording.spot[0].data() + at, 256);
        buffer.copyFrom(1, 0, recording.room[0].data() + at, 256);
        processor.processBlock(buffer, midi);
    }
    const auto blob = saved(processor);
    const std::string text(static_cast<const char*>(blob.getData()), blob.getSize());
    INFO(name << " in " << text.substr(0, 400));
    CHECK(text.find("\"inputs\":\"" + std::string(name) + "\"") != std::string::npos);
    CHECK(readState(text)->inputs == expected);
    processor.releaseResources();
}

TEST_CASE("state: what is broken or foreign changes nothing")
{
    const juce::ScopedJuceInitialiser_GUI juce;
    Processor processor;
    processor.engine().setByHand(Sides::both({0.02, Polarity::inverted}));
    *processor.parameters.lean = 4.0F;
    const auto whole = saved(processor);
    for (const std::size_t length : {std::size_t{0}, std::size_t{1}, std::size_t{50}, whole.getSize() - 2})
        processor.setStateInformation(whole.getData(), static_cast<int>(length));
    const char other[] = "VC2!\x10\0\0\0<nothing of ours/>";
    processor.setStateInformation(other, sizeof(other));
    processor.setStateInformation(nullptr, 0);
    CHECK(processor.engine().held() == Sides::both({0.02, Polarity::inverted}));
    CHECK(processor.parameters.lean->get() == 4.0F);
    CHECK(saved(processor) == whole);
}

TEST_CASE("the measure parameter asks for measuring and freezing, and shows which of the two it is")
{
    const juce::ScopedJuceInitialiser_GUI juce;
    Processor processor;
    processor.setNonRealtime(true);
    processor.prepareToPlay(48000.0, 512);
    auto& engine = processor.engine();
    juce::AudioBuffer<float> buffer(4, 512);
    buffer.clear();
    juce::MidiBuffer midi;
    const auto block = [&] { processor.processBlock(buffer, midi); };

    CHECK(engine.phase() == Phase::measuring);
    *processor.parameters.measure = false; // as a host's automation does
    block();
    CHECK(engine.phase() == Phase::frozen);
    *processor.parameters.measure = true;
    block();
    CHECK(engine.phase() == Phase::measuring);

    engine.setByHand(Sides::both({0.01, Polarity::normal})); // freezes
    juce::MessageManager::getInstance()->runDispatchLoopUntil(50);
    CHECK_FALSE(processor.parameters.measure->get());
    engine.measure();
    juce::MessageManager::getInstance()->runDispatchLoopUntil(50);
    CHECK(processor.parameters.measure->get());
    block();
    CHECK(engine.phase() == Phase::measuring);
}

TEST_CASE(
    "a session reopened by a host that first chooses its preset, and gives back late what it was told, stays frozen")
{
    // As Ardour 7 does with a VST3 whose window is open: what the plugin tells of its parameters comes back as
    // automation of the host's, in blocks after the state.
    const juce::ScopedJuceInitialiser_GUI juce;
    Processor before;
    before.prepareToPlay(48000.0, 512);
    before.engine().setByHand(Sides::both({0.02875, Polarity::normal}));
    pump();
    const auto session = saved(before);

    struct Host final : juce::AudioProcessorListener
    {
        explicit Host(Processor& wanted) : plugin(wanted) {}
        void audioProcessorParameterChanged(juce::AudioProcessor*, int index, float value) override
        {
            const bool isMeasure = plugin.getParameters()[index] == plugin.parameters.measure;
            if (isMeasure) told.push_back(value);
            if (isMeasure) phases.push_back(plugin.engine().phase());
        }
        void audioProcessorChanged(juce::AudioProcessor*, const ChangeDetails&) override {}
        Processor& plugin;
        std::vector<float> told;
        std::vector<Phase> phases;
    };
    Processor processor;
    processor.prepareToPlay(48000.0, 512);
    Host host(processor);
    processor.addListener(&host);
    processor.setCurrentProgram(3);
    pump();
    CHECK(host.told.empty()); // it measured before, and it does now
    load(processor, session);
    REQUIRE(host.told == std::vector<float>{0.0F});
    CHECK(host.phases.front() == Phase::frozen); // told when it is so, not before
    const auto givenBack = host.told;
    for (const float value : givenBack) processor.parameters.measure->setValueNotifyingHost(value);
    juce::AudioBuffer<float> buffer(4, 512);
    buffer.clear();
    juce::MidiBuffer midi;
    for (int block = 0; block < 4; ++block)
    {
        processor.processBlock(buffer, midi);
        processor.engine().work(processor.parameters.controls());
    }
    CHECK(processor.engine().phase() == Phase::frozen);
    CHECK_FALSE(processor.parameters.measure->get());
    processor.removeListener(&host);
}

TEST_CASE("in real time the worker measures and freezes by itself")
{
    const juce::ScopedJuceInitialiser_GUI juce;
    const auto recording = makeRecording({.seed = 31, .hits = 10});
    Processor processor;
    REQUIRE(processor.setBusesLayout(layout(1, 1)));
    processor.prepareToPlay(48000.0, 256);
    juce::AudioBuffer<float> buffer(2, 256);
    juce::MidiBuffer midi;
    for (std::size_t at = 0; at + 256 <= recording.frames(); at += 256)
    {
        buffer.copyFrom(0, 0, recording.spot[0].data() + at, 256);
        buffer.copyFrom(1, 0, recording.room[0].data() + at, 256);
        processor.processBlock(buffer, midi);
        juce::Thread::sleep(1); // some five times real time
    }
    for (int i = 0; i < 200 && processor.engine().phase() != Phase::frozen; ++i) juce::Thread::sleep(10);
    const auto report = processor.engine().report();
    INFO("lag " << report.lag.value_or(-1.0) << " s, confidence " << report.confidence << ", lost " << report.hitsLost);
    REQUIRE(processor.engine().phase() == Phase::frozen);
    CHECK(std::abs(processor.engine().held()->side[0].lag - 0.031) < 0.0005);
    processor.releaseResources();
}
