#include "Editor/SetupPage.h"

#include "Editor/Look.h"

#include <algorithm>
#include <iterator>

namespace tarry
{
namespace
{
constexpr int columnGap = 16, rowHeight = 22, rowGap = 3, sliderHeight = 34;
constexpr int widest = 620; // px: wider, and words and numbers that belong together are far apart
constexpr int scales[] = {75, 100, 125, 150, 175, 200}; // %
} // namespace

bool SetupPage::isScale(int percent)
{
    return std::find(std::begin(scales), std::end(scales), percent) != std::end(scales);
}

SetupPage::SetupPage(EditorTarget& other)
    : target(other), keep(other),
      reach("Reach", "The longest lag that is looked for.", {5.0, 200.0, 1.0, 80.0, "ms", 0}),
      lookAhead("Look-ahead",
                "Latency told to the host, so that a spot can also move earlier. The sound pauses for a "
                "moment when it changes.",
                {0.0, 100.0, 1.0, 0.0, "ms", 0}),
      temperature("Air", "The air's temperature, for metres and feet.",
                  {-30.0, 50.0, 0.5, 20.0, juce::String::charToString(0xb0) + "C", 1}),
      tape("Tape", "By the tape from the spot to the room microphone; 0 where nobody has taped it.",
           {0.0, 70.0, 0.05, 0.0, "m", 2, false, "not taped"}),
      colours("Colours", {{"Dark", "Light words on dark ground."}, {"Light", "Dark words on light ground."}})
{
    setTitle("Setup");
    reach.bind(target, &Controls::reach);
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
    tape.onValueChange = [this]
    {
        setup.tape = tape.getValue();
        target.setSetup(setup);
    };
    for (auto* slider : {&reach, &lookAhead, &temperature, &tape}) addAndMakeVisible(slider);

    bindSwitch(freezeWhenSettled, &Controls::freezeWhenSettled);
    bindSwitch(clap, &Controls::clap);
    bindSwitch(wholeSamples, &Controls::wholeSamples);
    bindSwitch(eachSide, &Controls::eachSide);
    bindSetup(
        roomArrivesLate, &Setup::roomArrivesLate, "Host delays the room",
        "With look-ahead only: whether the host hands over the room later by the latency it was told. Most do; turn "
        "it off where the lag is wrong by exactly the look-ahead.");
    bindSetup(watch, &Setup::watch, "Watch when frozen",
              "Goes on comparing, and says when the held lag no longer fits. It moves nothing.");
    bindSetup(lockWhileRecording, &Setup::lockWhileRecording, "Lock while the host records",
              "No measuring and no change while the host records.");
    for (auto* button : {&lockWhileRecording, &roomArrivesLate}) button->setVisible(target.hasHost());
    addName(spotName, &Names::spot, "Spot");
    addName(roomName, &Names::room, "Room");
    addName(cue, &Names::cue, "Cue");
    addName(take, &Names::take, "Take");

    describe(roomChannel, roomChannel, "Room channel", "Which of the room's channels to measure against.");
    roomChannel.onChange = [this]
    {
        target.begin(&Controls::roomChannel);
        target.set(&Controls::roomChannel, roomChannel.getSelectedId() - 1);
        target.end(&Controls::roomChannel);
    };
    addAndMakeVisible(roomChannel);

    describe(scale, scale, "Size", "How large words and controls are; the window is sized by its edges.");
    for (const int percent : scales) scale.addItem("Size: " + juce::String(percent) + " %", percent);
    scale.onChange = [this]
    {
        if (onScale) onScale(scale.getSelectedId());
    };
    colours.onChange = [this](int index)
    {
        if (onColours) onColours(index == 0);
    };
    addAndMakeVisible(keep);
    addAndMakeVisible(scale);
    addAndMakeVisible(colours);
}

void SetupPage::showScreen(bool isDark, int percent)
{
    colours.choose(isDark ? 0 : 1);
    scale.setSelectedId(percent, juce::dontSendNotification);
}

void SetupPage::bindSetup(juce::ToggleButton& button, bool Setup::*member, const juce::String& text,
                          const juce::String& help)
{
    button.setButtonText(text);
    describe(button, button, text, help);
    button.onClick = [this, &button, member]
    {
        setup.*member = button.getToggleState();
        target.setSetup(setup);
    };
    addAndMakeVisible(button);
}

void SetupPage::addName(juce::TextEditor& field, std::string Names::*member, const juce::String& title)
{
    describe(field, field, title + ", name", "What it is called, in recall line, sheet and pictures.");
    field.setTextToShowWhenEmpty(title.toLowerCase(), Look::of(*this).dim);
    field.setFont(Look::font(Look::small));
    field.setIndents(6, 3);
    field.setInputRestrictions(80);
    field.onReturnKey = [this, &field, member]
    {
        names.*member = field.getText().trim().toStdString();
        target.setNames(names);
    };
    field.onFocusLost = field.onReturnKey;
    addAndMakeVisible(field);
}

/// A field keeps the colours it was written in.
void SetupPage::lookAndFeelChanged()
{
    const auto& theme = Look::of(*this);
    for (auto* field : {&spotName, &roomName, &cue, &take})
    {
        field->applyColourToAllText(theme.ink);
        field->setTextToShowWhenEmpty(field->getTextToShowWhenEmpty(), theme.dim);
    }
}

void SetupPage::listRoomChannels(int count)
{
    if (count == roomChannels) return;
    roomChannels = count;
    roomChannel.clear(juce::dontSendNotification);
    roomChannel.addItem("Room: first arrival", 1);
    for (int i = 0; i < count; ++i) roomChannel.addItem("Room: " + target.roomChannelName(i), i + 2);
}

void SetupPage::bindSwitch(juce::ToggleButton& button, bool Controls::*control)
{
    const auto& said = setting(control);
    const juce::String words(said.words.data(), said.words.size());
    const auto text = words.substring(0, 1).toUpperCase() + words.substring(1);
    button.setButtonText(text);
    describe(button, button, text, {said.help.data(), said.help.size()});
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
    tape.show(setup.tape);
    watch.setToggleState(setup.watch, juce::dontSendNotification);
    lockWhileRecording.setToggleState(setup.lockWhileRecording, juce::dontSendNotification);
    names = model.values.names;
    for (auto [field, name] : {std::pair{&spotName, &names.spot}, std::pair{&roomName, &names.room},
                               std::pair{&cue, &names.cue}, std::pair{&take, &names.take}})
        if (!field->hasKeyboardFocus(true)) field->setText(juce::String::fromUTF8(name->c_str()), false);
    keep.update(model);
    freezeWhenSettled.setToggleState(controls.freezeWhenSettled, juce::dontSendNotification);
    clap.setToggleState(controls.clap, juce::dontSendNotification);
    wholeSamples.setToggleState(controls.wholeSamples, juce::dontSendNotification);
    eachSide.setToggleState(controls.eachSide, juce::dontSendNotification);
    eachSide.setEnabled(model.values.spotChannels > 1);
    roomArrivesLate.setToggleState(setup.roomArrivesLate, juce::dontSendNotification);
    roomArrivesLate.setEnabled(setup.lookAhead > 0.0);
    // One that is set stays in the list, whatever is connected just now.
    listRoomChannels(juce::jmax(2, model.values.roomChannels, controls.roomChannel + 1));
    roomChannel.setSelectedId(controls.roomChannel + 2, juce::dontSendNotification);
}

void SetupPage::resized()
{
    auto area = getLocalBounds().withWidth(juce::jmin(widest, getWidth()));
    const int column = (area.getWidth() - columnGap) / 2;
    auto upper = area.removeFromTop(4 * (sliderHeight + rowGap) + rowHeight + rowGap);
    auto left = upper.removeFromLeft(column);
    for (auto* slider : {&reach, &lookAhead, &temperature, &tape})
    {
        slider->setBounds(left.removeFromTop(sliderHeight));
        left.removeFromTop(rowGap);
    }
    roomChannel.setBounds(left.removeFromTop(rowHeight));
    auto right = upper.withTrimmedLeft(columnGap);
    auto switches = right.removeFromTop(7 * 20);
    for (auto* button :
         {&freezeWhenSettled, &watch, &lockWhileRecording, &clap, &wholeSamples, &eachSide, &roomArrivesLate})
        if (button->isVisible()) button->setBounds(switches.removeFromTop(20));
    right.removeFromTop(rowGap);
    auto screen = right.removeFromTop(rowHeight);
    colours.setBounds(screen.removeFromLeft(column / 2 - 1));
    scale.setBounds(screen.withTrimmedLeft(2));
    area.removeFromTop(rowGap);
    auto called = area.removeFromTop(rowHeight);
    auto ofPair = called.removeFromLeft(column); // both pairs on the columns' own edges
    const auto share = [](juce::Rectangle<int> pair, juce::Component& first, juce::Component& second)
    {
        first.setBounds(pair.removeFromLeft((pair.getWidth() - 4) / 2));
        second.setBounds(pair.withTrimmedLeft(4));
    };
    share(ofPair, spotName, roomName);
    share(called.withTrimmedLeft(columnGap), cue, take);
    area.removeFromTop(rowGap + 2);
    keep.setBounds(area.withHeight(juce::jmin(area.getHeight(), KeepPanel::height)));
}
} // namespace tarry
