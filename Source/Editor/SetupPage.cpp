#include "Editor/SetupPage.h"

#include "Editor/Segments.h"

namespace tarry
{
namespace
{
constexpr int columnGap = 16, channelTop = 126, keepTop = 158;
}

SetupPage::SetupPage(EditorTarget& other)
    : target(other), keep(other),
      reach("Reach", "The longest lag that is looked for.", {5.0, 200.0, 1.0, 80.0, "ms", 0}),
      lookAhead("Look-ahead",
                "Latency told to the host, so that a spot can also move earlier. The sound pauses for a "
                "moment when it changes.",
                {0.0, 100.0, 1.0, 0.0, "ms", 0}),
      temperature("Air", "The air's temperature, for metres and feet.",
                  {-20.0, 50.0, 0.5, 20.0, juce::String::charToString(0xb0) + "C", 1})
{
    setTitle("Setup");
    reach.bind(target, Control::reach, 1e-3);
    lookAhead.setChangeNotificationOnlyOnRelease(true); // each change makes the host start its streams again
    lookAhead.onValueChange = [this]
    {
        setup.lookAhead = lookAhead.getValue() * 1e-3;
        target.setSetup(setup);
    };
    temperature.onValueChange = [this]
    {
        setup.temperature = temperature.getValue();
        target.setSetup(setup);
    };
    for (auto* slider : {&reach, &lookAhead, &temperature}) addAndMakeVisible(slider);

    bindSwitch(freezeWhenSettled, Control::freezeWhenSettled, "Freeze when settled",
               "Holds lag and polarity as soon as enough hits agree.");
    bindSwitch(clap, Control::clap, "One clap is enough",
               "A single clap or slate, struck at the instrument, settles it.");
    bindSwitch(wholeSamples, Control::wholeSamples, "Whole samples",
               "Rounds the lag to a whole sample, so that the spot passes bit for bit.");
    bindSwitch(eachSide, Control::eachSide, "Each side its own lag",
               "A stereo spot's sides each follow a lag of their own.");
    roomArrivesLate.setButtonText("Host delays the room");
    describe(
        roomArrivesLate, roomArrivesLate, "Host delays the room",
        "With look-ahead only: whether the host hands over the room later by the latency it was told. Most do; turn "
        "it off where the lag is wrong by exactly the look-ahead.");
    roomArrivesLate.onClick = [this]
    {
        setup.roomArrivesLate = roomArrivesLate.getToggleState();
        target.setSetup(setup);
    };
    addAndMakeVisible(roomArrivesLate);

    describe(roomChannel, roomChannel, "Room channel", "Which of the room's channels to measure against.");
    roomChannel.addItemList({"Room: first arrival", "Room: left", "Room: right"}, 1);
    roomChannel.onChange = [this]
    {
        target.begin(Control::roomChannel);
        target.set(Control::roomChannel, roomChannel.getSelectedId() - 2);
        target.end(Control::roomChannel);
    };
    addAndMakeVisible(roomChannel);

    addAndMakeVisible(keep);
}

void SetupPage::bindSwitch(juce::ToggleButton& button, Control control, const juce::String& text,
                           const juce::String& help)
{
    button.setButtonText(text);
    describe(button, button, text, help);
    button.onClick = [this, &button, control]
    {
        target.begin(control);
        target.set(control, button.getToggleState() ? 1.0 : 0.0);
        target.end(control);
    };
    addAndMakeVisible(button);
}

void SetupPage::update(const EditorModel& model)
{
    const auto& controls = model.values.controls;
    setup = model.values.setup;
    reach.show(controls.reach * 1e3);
    if (!lookAhead.isMouseButtonDown()) lookAhead.show(setup.lookAhead * 1e3);
    temperature.show(setup.temperature);
    freezeWhenSettled.setToggleState(controls.freezeWhenSettled, juce::dontSendNotification);
    clap.setToggleState(controls.clap, juce::dontSendNotification);
    wholeSamples.setToggleState(controls.wholeSamples, juce::dontSendNotification);
    eachSide.setToggleState(controls.eachSide, juce::dontSendNotification);
    eachSide.setEnabled(model.values.spotChannels > 1);
    roomArrivesLate.setToggleState(setup.roomArrivesLate, juce::dontSendNotification);
    roomArrivesLate.setEnabled(setup.lookAhead > 0.0);
    roomChannel.setSelectedId(controls.roomChannel + 2, juce::dontSendNotification);
}

void SetupPage::resized()
{
    const int column = (getWidth() - columnGap) / 2;
    auto left = getLocalBounds().withWidth(column);
    for (auto* slider : {&reach, &lookAhead, &temperature})
    {
        slider->setBounds(left.removeFromTop(38));
        left.removeFromTop(4);
    }
    auto right = getLocalBounds().withTrimmedLeft(column + columnGap);
    for (auto* button : {&freezeWhenSettled, &clap, &wholeSamples, &eachSide, &roomArrivesLate})
        button->setBounds(right.removeFromTop(24));
    roomChannel.setBounds(column + columnGap, channelTop, column, 24);
    keep.setBounds(getLocalBounds().withTop(keepTop));
}
} // namespace tarry
