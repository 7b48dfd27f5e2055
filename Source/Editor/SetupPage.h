#pragma once
#include "Editor/EditorTarget.h"
#include "Editor/KeepPanel.h"
#include "Editor/Segments.h"
#include "Editor/ValueSlider.h"

#include <juce_gui_basics/juce_gui_basics.h>

namespace tarry
{
/// What is set once: reach, look-ahead, the air, the room's channel, how to measure; what is kept; and the screen.
class SetupPage : public juce::Component
{
public:
    explicit SetupPage(EditorTarget&);

    std::function<void(bool isDark)> onColours;
    std::function<void(int percent)> onScale;

    void update(const EditorModel&);
    /// The colours and the scale that are used.
    void showScreen(bool isDark, int percent);
    void resized() override;
    void lookAndFeelChanged() override;

    [[nodiscard]] static bool isScale(int percent);

private:
    void bindSwitch(juce::ToggleButton&, bool Controls::*); ///< with the words that the table of settings has
    void bindSetup(juce::ToggleButton&, bool Setup::*, const juce::String& text, const juce::String& help);
    void addName(juce::TextEditor&, std::string Names::*, const juce::String& title);
    void listRoomChannels(int count);

    EditorTarget& target;
    KeepPanel keep;
    Setup setup;
    ValueSlider reach, lookAhead, temperature, tape;
    juce::ToggleButton freezeWhenSettled, clap, wholeSamples, eachSide, roomArrivesLate, watch, lockWhileRecording;
    juce::ComboBox roomChannel, scale;
    Segments colours;
    juce::TextEditor spotName, roomName, cue, take;
    Names names;
    int roomChannels = -1; ///< that are listed
};
} // namespace tarry
