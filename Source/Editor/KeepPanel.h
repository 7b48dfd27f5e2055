#pragma once
#include "Editor/EditorTarget.h"

#include <juce_gui_basics/juce_gui_basics.h>

#include <memory>

namespace tarry
{
/// What is kept and taken elsewhere: presets, and the recall line. Only what the target offers is shown.
class KeepPanel : public juce::Component
{
public:
    explicit KeepPanel(EditorTarget&);

    void paint(juce::Graphics&) override;
    void resized() override;

private:
    void addPresets(PresetTarget&);
    void addRecall(RecallTarget&);
    void addButton(juce::TextButton&, const juce::String& text, const juce::String& help);
    void chooseFile(PresetTarget&, bool toSave);
    void say(const juce::String& line);
    void list(const PresetTarget&);

    juce::ComboBox presets;
    juce::TextButton load, save, copy, paste;
    std::unique_ptr<juce::FileChooser> chooser;
    juce::String message; ///< one line about what was last done, or why not
};
} // namespace tarry
