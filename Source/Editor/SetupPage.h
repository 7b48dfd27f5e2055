#pragma once
#include "Editor/EditorTarget.h"
#include "Editor/KeepPanel.h"
#include "Editor/ValueSlider.h"

#include <juce_gui_basics/juce_gui_basics.h>

namespace tarry
{
/// What is set once: reach, look-ahead, the air, the room's channel, how to measure; and below it what is kept.
class SetupPage : public juce::Component
{
public:
    explicit SetupPage(EditorTarget&);

    void update(const EditorModel&);
    void resized() override;

private:
    void bindSwitch(juce::ToggleButton&, Control, const juce::String& text, const juce::String& help);

    EditorTarget& target;
    KeepPanel keep;
    Setup setup;
    ValueSlider reach, lookAhead, temperature;
    juce::ToggleButton freezeWhenSettled, clap, wholeSamples, eachSide, roomArrivesLate;
    juce::ComboBox roomChannel;
};
} // namespace tarry
