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

    static constexpr int height = 22 + 3 + 22 + 2 + 34; ///< px

    void update(const EditorModel&);
    void paint(juce::Graphics&) override;
    void resized() override;

private:
    void addPresets(PresetTarget&);
    void addRecall(RecallTarget&);
    void addButton(juce::TextButton&, const juce::String& text, const juce::String& help);
    void chooseFile(PresetTarget&, bool toSave);
    void say(const juce::String& line, bool failed);
    void tell(const juce::String& problem, const juce::String& success)
    {
        say(problem.isEmpty() ? success : problem, problem.isNotEmpty());
    }
    void list(const PresetTarget&);

    juce::ComboBox presets;
    juce::TextButton load, save, copy, paste;
    std::unique_ptr<juce::FileChooser> chooser;
    juce::String message; ///< one line about what was last done, or why not
    bool isTrouble = false;
};
} // namespace tarry
