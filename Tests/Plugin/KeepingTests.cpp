#include "Plugin/Keeping.h"

#include "Core/Controls/RecallLine.h"
#include "Plugin/Processor.h"
#include "Support/Catch.h"

using namespace tarry;

namespace
{
juce::MemoryBlock saved(Processor& processor)
{
    juce::MemoryBlock blob;
    processor.getStateInformation(blob);
    return blob;
}
} // namespace

TEST_CASE("presets: the host's own list sets parameters and look-ahead, and never what is held")
{
    const juce::ScopedJuceInitialiser_GUI juce;
    Processor processor;
    processor.prepareToPlay(48000.0, 512);
    const auto held = Sides::both({0.031084, Polarity::inverted});
    processor.engine().setByHand(held);
    *processor.parameters.lean = -3.0F;
    *processor.parameters.blend = true;
    REQUIRE(processor.getNumPrograms() == 1 + static_cast<int>(ownPresets().size()));
    for (int i = 0; i < processor.getNumPrograms(); ++i)
    {
        processor.setCurrentProgram(i);
        juce::MessageManager::getInstance()->runDispatchLoopUntil(20); // the look-ahead waits for it
        INFO(processor.getProgramName(i));
        CHECK(processor.getCurrentProgram() == i);
        CHECK(processor.engine().held() == held);
        CHECK(processor.engine().phase() == Phase::frozen);
        CHECK(processor.parameters.blend->get()); // what is for a moment is no preset's
        const auto controls = processor.parameters.controls();
        const auto name = processor.getProgramName(i);
        CHECK(controls.lean == (name == "Room leads by 10 ms" ? 0.010 : 0.0));
        CHECK(controls.clap == (name == "Clap at the instrument"));
        CHECK(controls.aligned == (name != "Full ensemble: leave as recorded"));
        juce::MessageManager::getInstance()->runDispatchLoopUntil(20);           // the host is told from there
        CHECK(processor.getLatencySamples() == (name == "Late spot" ? 960 : 0)); // 20 ms
    }
    CHECK(processor.engine().undoWords() == "the preset 'Late spot'");
    CHECK(processor.undo());
    CHECK(processor.getProgramName(processor.getCurrentProgram()) == "Full ensemble: leave as recorded");
    CHECK(processor.setup().lookAhead == 0.0);
    CHECK(processor.engine().held() == held);
    CHECK(processor.redo());
    processor.setCurrentProgram(99);
    processor.setCurrentProgram(-1);
    CHECK(processor.getCurrentProgram() == processor.getNumPrograms() - 1);
}

TEST_CASE("presets: a reopened session knows the one chosen, and keeps what was turned since then")
{
    const juce::ScopedJuceInitialiser_GUI juce;
    Processor first, second;
    first.setCurrentProgram(5);
    *first.parameters.lean = 12.5F;
    first.trial().setResults({"right:12/16,p=0.0384"});
    const auto blob = saved(first);
    second.setStateInformation(blob.getData(), static_cast<int>(blob.getSize()));
    CHECK(second.getCurrentProgram() == 5);
    CHECK(second.getProgramName(5) == "Room leads by 10 ms");
    CHECK(second.parameters.lean->get() == 12.5F);
    CHECK(second.trial().lastShortForm() == "right:12/16,p=0.0384");
}

TEST_CASE("presets: the settings of one instance, as text, set another")
{
    const juce::ScopedJuceInitialiser_GUI juce;
    Processor first, second;
    *first.parameters.lean = -7.25F;
    *first.parameters.reach = 120.0F;
    *first.parameters.roomChannel = 2.0F;
    *first.parameters.blendRoom = -4.5F;
    first.setSetup({.lookAhead = 0.015, .roomArrivesLate = false, .temperature = 16.5});
    applyPreset(second, readPreset(writePreset(presetOf(first, "Mine")), "mine.tarry"));
    CHECK(second.parameters.controls() == first.parameters.controls());
    CHECK(second.setup() == first.setup());
    CHECK_FALSE(second.engine().held().has_value());
}

TEST_CASE("recall line: copied from one instance and pasted into another, which undo brings back")
{
    const juce::ScopedJuceInitialiser_GUI juce;
    Processor first, second;
    first.engine().setByHand({{{{0.031084123, Polarity::inverted}, {0.029, Polarity::normal}}}});
    *first.parameters.lean = -3.5F;
    *first.parameters.aligned = false;
    *first.parameters.eachSide = true;
    *first.parameters.blendRoom = 0.0F;
    *first.parameters.roomChannel = 1.0F;
    *first.parameters.reach = 150.0F;
    first.setSetup({.lookAhead = 0.02, .roomArrivesLate = false, .temperature = 12.5});
    first.trial().setLast("aligned-preferred:13/16,p=0.0213");
    first.setNames({"Gran cassa", "Array 3", "4m12", "7", "2026-11-25"});
    const auto line = recallLineOf(first);
    INFO(line);

    const auto before = Sides::both({0.01, Polarity::normal});
    second.engine().setByHand(before);
    applyRecallLine(second, "  " + line + "\n");
    CHECK(second.engine().held() == first.engine().held());
    CHECK(second.engine().phase() == Phase::frozen);
    CHECK(second.parameters.controls() == first.parameters.controls());
    CHECK(second.setup() == first.setup());
    CHECK(recallLineOf(second) == line);
    CHECK(second.names() == first.names());
    CHECK(second.engine().undoWords() == "the recall line");
    CHECK(second.undo());
    CHECK(second.engine().held() == before);
    CHECK(second.parameters.controls() == Controls{}); // the settings too
    CHECK(second.setup() == Setup{});
    CHECK(second.redo());
    CHECK(second.engine().held() == first.engine().held());
    CHECK(second.parameters.controls() == first.parameters.controls());
    CHECK(second.setup() == first.setup());

    const auto state = saved(second);
    CHECK_THROWS_AS(applyRecallLine(second, line.substr(0, line.size() / 2)), RecallError);
    CHECK(saved(second) == state); // a broken line changes nothing
}

TEST_CASE("a state says what is, not what a host asks for while the instance is locked")
{
    const juce::ScopedJuceInitialiser_GUI juce;
    Processor processor, second;
    processor.prepareToPlay(48000.0, 512);
    processor.engine().setByHand(Sides::both({0.031084, Polarity::inverted}));
    processor.parameters["lock"].setValueNotifyingHost(1.0F);
    juce::MessageManager::getInstance()->runDispatchLoopUntil(20);
    processor.parameters.measure->setValueNotifyingHost(1.0F); // waits until the lock is off
    REQUIRE(processor.engine().phase() == Phase::frozen);
    const auto blob = saved(processor);
    second.setStateInformation(blob.getData(), static_cast<int>(blob.getSize()));
    CHECK(saved(second).toString() == blob.toString());
}
