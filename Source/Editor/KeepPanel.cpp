#include "Editor/KeepPanel.h"

#include "Editor/Look.h"
#include "Editor/Segments.h"
#include "Plugin/Presets.h"

namespace tarry
{
KeepPanel::KeepPanel(EditorTarget& target)
{
    setTitle("Presets and recall line");
    if (auto* offered = target.presets()) addPresets(*offered);
    if (auto* offered = target.recall()) addRecall(*offered);
}

void KeepPanel::addButton(juce::TextButton& button, const juce::String& text, const juce::String& help)
{
    button.setButtonText(text);
    describe(button, button, text, help);
    addAndMakeVisible(button);
}

void KeepPanel::addPresets(PresetTarget& target)
{
    describe(presets, presets, "Presets", "One for each usual job.");
    presets.setTextWhenNothingSelected("Presets");
    list(target);
    presets.onChange = [this, &target]
    {
        const int id = presets.getSelectedId();
        if (id <= 0) return;
        const auto problem = target.load(id - 1);
        say(problem.isEmpty() ? presets.getText() + ": loaded." : problem);
    };
    addAndMakeVisible(presets);
    const auto dots = juce::String::charToString(0x2026);
    addButton(load, "Load" + dots, "Loads a preset of your own.");
    addButton(save, "Save" + dots, "Saves the settings as a preset of your own; lag and polarity are not part of it.");
    load.onClick = [this, &target] { chooseFile(target, false); };
    save.onClick = [this, &target] { chooseFile(target, true); };
}

void KeepPanel::addRecall(RecallTarget& target)
{
    addButton(copy, "Copy recall line", "Copies one line of text with everything needed to set this spot again.");
    addButton(paste, "Paste recall line", "Sets everything as the recall line on the clipboard says.");
    copy.onClick = [this, &target]
    {
        juce::SystemClipboard::copyTextToClipboard(target.line());
        say("The recall line is on the clipboard.");
    };
    paste.onClick = [this, &target]
    {
        const auto problem = target.apply(juce::SystemClipboard::getTextFromClipboard());
        say(problem.isEmpty() ? juce::String("Set as the recall line says.") : problem);
    };
}

void KeepPanel::chooseFile(PresetTarget& target, bool toSave)
{
    const auto folder = target.folder();
    if (toSave) folder.createDirectory(); // else the chooser would open elsewhere
    const juce::String pattern = juce::String("*") + presetEnding;
    chooser = std::make_unique<juce::FileChooser>(toSave ? "Save as a preset" : "Load a preset", folder, pattern);
    using Browser = juce::FileBrowserComponent;
    const int wanted = Browser::canSelectFiles | (toSave ? Browser::saveMode | Browser::warnAboutOverwriting
                                                         : static_cast<int>(Browser::openMode));
    chooser->launchAsync(
        wanted,
        [this, &target, toSave](const juce::FileChooser& chosen)
        {
            const auto file = chosen.getResult();
            if (file == juce::File()) return;
            const auto problem = toSave ? target.save(file.withFileExtension(presetEnding)) : target.load(file);
            say(problem.isNotEmpty() ? problem
                                     : file.getFileNameWithoutExtension() + (toSave ? ": saved." : ": loaded."));
            list(target);
        });
}

void KeepPanel::list(const PresetTarget& target)
{
    presets.clear(juce::dontSendNotification);
    presets.addItemList(target.names(), 1);
}

void KeepPanel::say(const juce::String& line)
{
    message = line;
    setDescription(line);
    repaint();
}

void KeepPanel::paint(juce::Graphics& g)
{
    g.setColour(Look::of(*this).ink);
    g.setFont(Look::font(Look::small));
    g.drawFittedText(message, getLocalBounds().withTop(48), juce::Justification::centredLeft, 1, 0.8F);
}

void KeepPanel::resized()
{
    constexpr int gap = 16, height = 22;
    const int column = (getWidth() - gap) / 2;
    presets.setBounds(0, 0, column, height);
    auto row = juce::Rectangle<int>(column + gap, 0, column, height);
    load.setBounds(row.removeFromLeft(column / 2 - 1));
    save.setBounds(row.withTrimmedLeft(2));
    copy.setBounds(0, 25, column, height);
    paste.setBounds(column + gap, 25, column, height);
}
} // namespace tarry
