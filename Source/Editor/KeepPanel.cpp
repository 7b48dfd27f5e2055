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
        tell(target.load(id - 1), presets.getText() + ": loaded.");
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
        say("The recall line is on the clipboard.", false);
    };
    paste.onClick = [this, &target]
    { tell(target.apply(juce::SystemClipboard::getTextFromClipboard()), "Set as the recall line says."); };
}

void KeepPanel::chooseFile(PresetTarget& target, bool toSave)
{
    const auto folder = target.folder();
    if (toSave) folder.createDirectory(); // else the chooser would open elsewhere
    const juce::String pattern = juce::String("*") + presetEnding;
    chooser = std::make_unique<juce::FileChooser>(toSave ? "Save as a preset" : "Load a preset", folder, pattern, true,
                                                  false, Look::within(*this));
    using Browser = juce::FileBrowserComponent;
    const int wanted = Browser::canSelectFiles | (toSave ? Browser::saveMode | Browser::warnAboutOverwriting
                                                         : static_cast<int>(Browser::openMode));
    chooser->launchAsync(wanted,
                         [this, &target, toSave](const juce::FileChooser& chosen)
                         {
                             const auto file = chosen.getResult();
                             if (file == juce::File()) return;
                             tell(toSave ? target.save(file.withFileExtension(presetEnding)) : target.load(file),
                                  file.getFileNameWithoutExtension() + (toSave ? ": saved." : ": loaded."));
                             list(target);
                         });
    Look::dressChooser(*Look::within(*this));
}

/// The box tells what is set, and whether it has been changed since.
void KeepPanel::update(const EditorModel& model)
{
    const auto name = juce::String::fromUTF8(model.values.preset.c_str());
    // A name of the user's own may be long.
    const juce::String change = name.isNotEmpty() && model.values.presetChanged ? ", changed" : "";
    const auto font = Look::font(Look::small);
    const auto told = Look::shortened(name, font, presets.getWidth() - 30 - font.getStringWidth(change)) + change;
    if (presets.getText() != told) presets.setText(told, juce::dontSendNotification);
}

void KeepPanel::list(const PresetTarget& target)
{
    presets.clear(juce::dontSendNotification);
    presets.addItemList(target.names(), 1);
}

void KeepPanel::say(const juce::String& line, bool failed)
{
    message = line;
    isTrouble = failed;
    setDescription(line);
    repaint();
}

void KeepPanel::paint(juce::Graphics& g)
{
    // What failed and what went well differ in ink, and in the sign before it.
    if (message.isEmpty()) return;
    const auto& theme = Look::of(*this);
    const auto area = getLocalBounds().withTop(49);
    g.setColour(isTrouble ? theme.wrong : theme.good);
    g.setFont(Look::font(Look::small, true));
    Look::write(g, isTrouble ? "!" : juce::String::charToString(0x2022), area.withWidth(10).withHeight(Look::line + 2),
                juce::Justification::centredLeft);
    const auto lines = Look::paragraph(message, area.getWidth() - 12, isTrouble ? theme.wrong : theme.good);
    lines.draw(g, area.withTrimmedLeft(12).withTrimmedTop(1).toFloat());
}

void KeepPanel::resized()
{
    constexpr int columnGap = 16, rowHeight = 22;
    const int column = (getWidth() - columnGap) / 2;
    presets.setBounds(0, 0, column, rowHeight);
    auto row = juce::Rectangle<int>(column + columnGap, 0, column, rowHeight);
    load.setBounds(row.removeFromLeft(column / 2 - 1));
    save.setBounds(row.withTrimmedLeft(2));
    copy.setBounds(0, 25, column, rowHeight);
    paste.setBounds(column + columnGap, 25, column, rowHeight);
}
} // namespace tarry
