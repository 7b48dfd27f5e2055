#include "Editor/Editor.h"

#include "Editor/Body.h"
#include "Plugin/Processor.h"
#include "Support/Catch.h"

#include <functional>
#include <memory>

using namespace tarry;

namespace
{
/// The editor on a real processor, with no host and no display.
struct Opened
{
    juce::ScopedJuceInitialiser_GUI juce;
    Processor processor;
    std::unique_ptr<juce::AudioProcessorEditor> editor{makeEditor(processor)};

    template <typename Found>
    Found& find(const juce::String& title)
    {
        Found* found = nullptr;
        const std::function<void(juce::Component&)> visit = [&](juce::Component& c)
        {
            if (auto* candidate = dynamic_cast<Found*>(&c); candidate != nullptr && c.getTitle() == title)
                found = candidate;
            for (auto* child : c.getChildren()) visit(*child);
        };
        visit(*editor);
        INFO(title);
        REQUIRE(found != nullptr);
        return *found;
    }
    Body& body() { return find<Body>("Tarry"); }
};
} // namespace

TEST_CASE("Editor: sized freely from 640 x 400 up, scaled as chosen, and both come back", "[editor]")
{
    Opened opened;
    CHECK(opened.editor->isResizable());
    auto* limits = opened.editor->getConstrainer();
    CHECK(limits->getMinimumWidth() == 640);
    CHECK(limits->getMinimumHeight() == 400);
    CHECK(limits->getFixedAspectRatio() == 0.0);
    for (const auto& [width, height] : {std::pair{640, 400}, {1600, 1000}, {700, 1200}, {3840, 2160}})
    {
        opened.editor->setSize(width, height);
        CHECK(opened.body().getWidth() == width);
        CHECK(opened.body().getHeight() == height);
    }
    opened.editor->setSize(1500, 900);
    opened.find<juce::ComboBox>("Size").setSelectedId(200, juce::sendNotificationSync);
    CHECK(opened.body().getTransform().mat00 == 2.0F);
    CHECK(opened.body().getWidth() == 750);
    CHECK(opened.body().getHeight() == 450);
    opened.editor->setSize(1280, 800);
    opened.editor.reset(makeEditor(opened.processor));
    CHECK(opened.editor->getWidth() == 1280);
    CHECK(opened.editor->getHeight() == 800);
    CHECK(opened.body().getWidth() == 640);
    opened.processor.screen.set("width", "999999"); // a broken state
    opened.processor.screen.set("height", "1");
    opened.processor.screen.set("scale", "-7");
    opened.editor.reset(makeEditor(opened.processor));
    CHECK(opened.editor->getWidth() == 8192);
    CHECK(opened.editor->getHeight() == 400);
    CHECK(opened.body().getTransform().mat00 == 1.0F);
}

TEST_CASE("Editor: the levels of spot and room reach the meters", "[editor]")
{
    Opened opened;
    auto& processor = opened.processor;
    processor.setRateAndBufferSizeDetails(48000.0, 64);
    processor.prepareToPlay(48000.0, 64);
    juce::AudioBuffer<float> buffer(processor.getTotalNumInputChannels(), 64);
    buffer.clear();
    buffer.setSample(0, 10, -0.5F);
    buffer.setSample(buffer.getNumChannels() - 1, 20, 0.25F);
    juce::MidiBuffer midi;
    processor.processBlock(buffer, midi);
    const auto levels = opened.body().target().takeLevels();
    CHECK(levels.spot == 0.5F);
    CHECK(levels.room == 0.25F);
    CHECK(opened.body().target().takeLevels().spot == 0.0F); // since the last call
    processor.releaseResources();
}

TEST_CASE("Editor: every control turns the processor's own parameter, in its unit", "[editor]")
{
    Opened opened;
    auto& processor = opened.processor;
    const auto turn = [&](const char* title, double value)
    { opened.find<ValueSlider>(title).setValue(value, juce::sendNotificationSync); };
    turn("Lean", -8.5);
    turn("Room", -12.0);
    turn("Reach", 120.0);
    turn("Air", 5.5);
    const auto controls = processor.parameters.controls();
    CHECK(controls.lean == Approx(-0.0085));
    CHECK(controls.blendGain == Approx(0.2511886)); // 10^(-12/20)
    CHECK(controls.reach == Approx(0.120));
    CHECK(processor.setup().temperature == Approx(5.5));

    const auto click = [&](auto& button)
    { button.setToggleState(!button.getToggleState(), juce::sendNotificationSync); };
    click(opened.find<juce::ToggleButton>("Blend"));
    click(opened.find<juce::ToggleButton>("Freeze when settled"));
    click(opened.find<juce::ToggleButton>("One clap is enough"));
    click(opened.find<juce::ToggleButton>("Whole samples"));
    opened.find<juce::TextButton>("Hear: As recorded").onClick();
    opened.find<juce::ComboBox>("Room channel").setSelectedId(3, juce::sendNotificationSync);
    const auto after = processor.parameters.controls();
    CHECK(after.blend);
    CHECK_FALSE(after.freezeWhenSettled);
    CHECK(after.clap);
    CHECK(after.wholeSamples);
    CHECK_FALSE(after.aligned);
    CHECK(after.roomChannel == 1);
}

TEST_CASE("Editor: a lag by hand is held, and undone", "[editor]")
{
    Opened opened;
    auto& engine = opened.processor.engine();
    auto& lag = opened.find<LagReadout>("Lag");
    lag.onLag(0.0125, false);
    REQUIRE(engine.held().has_value());
    CHECK(engine.held()->side[0].lag == Approx(0.0125));
    CHECK(engine.phase() == Phase::frozen);
    CHECK(opened.body().refresh());
    lag.keyPressed(juce::KeyPress(juce::KeyPress::rightKey));
    CHECK(engine.held()->side[0].lag == Approx(0.01251));
    opened.find<juce::TextButton>("Polarity").onClick();
    CHECK(engine.held()->side[0].polarity == Polarity::inverted);
    opened.body().refresh();
    opened.find<juce::TextButton>("Undo").onClick();
    CHECK(engine.held()->side[0].polarity == Polarity::normal);
    opened.find<juce::TextButton>("Measure").onClick();
    CHECK(engine.phase() == Phase::measuring);
    CHECK(engine.held().has_value()); // measuring again never loses what was held
}
