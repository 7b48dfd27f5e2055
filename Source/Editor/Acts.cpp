#include "Editor/Acts.h"

#include "Editor/Look.h"
#include "Editor/Segments.h"
#include "Editor/Words.h"

namespace tarry
{
Acts::Acts(EditorTarget& other) : target(other)
{
    setTitle("Measuring");
    const auto add = [this](juce::TextButton& button, const juce::String& text, const juce::String& help)
    {
        button.setButtonText(text);
        describe(button, button, text, help);
        addAndMakeVisible(button);
    };
    add(freeze, "Freeze", "Holds lag and polarity for good and stops measuring. Key: F.");
    add(measure, "Measure", "Measures again. What is held stays applied until something new is applied. Key: M.");
    add(apply, "Apply", "Applies the measured lag and polarity as they are, sure or not, and freezes. Key: P.");
    add(undo, "Undo", "Takes back the last act. Key: Z.");
    add(redo, "Redo", "Does again what was taken back. Key: shift and Z.");
    add(lock, "Lock", "No measuring and no change, while recording. Key: L.");
    measure.onClick = [this] { target.measure(); };
    freeze.onClick = [this] { target.freeze(); };
    apply.onClick = [this] { target.apply(); };
    undo.onClick = [this] { target.undo(); };
    redo.onClick = [this] { target.redo(); };
    lock.onClick = [this]
    {
        target.begin(&Controls::lock);
        target.set(&Controls::lock, isLocked ? 0.0 : 1.0);
        target.end(&Controls::lock);
    };
}

void Acts::update(const EditorModel& model)
{
    const auto& values = model.values;
    const auto& report = model.report;
    const bool frozen = values.phase == Phase::frozen;
    // The one that can be done now takes the keyboard over from the one that has just been done.
    auto& next = frozen ? measure : freeze;
    auto& last = frozen ? freeze : measure;
    enable(next, !values.locked);
    if (last.hasKeyboardFocus(false)) next.grabKeyboardFocus();
    enable(last, false);
    isLocked = values.controls.lock;
    lock.setButtonText(values.locked ? "Locked" : "Lock");
    lock.getProperties().set(Look::marked, values.locked);
    lock.setTooltip(values.locked && !isLocked ? "Locked while the host records."
                                               : "No measuring and no change, while recording. Key: L.");
    lock.repaint();
    const bool isApplied = values.hasLag && report.lag && values.applied().lag == *report.lag &&
                           values.applied().polarity == report.polarity.value_or(Polarity::normal) && frozen;
    enable(apply, isTold(report) && canBeApplied(model) && !isApplied && !values.locked);
    enable(undo, !values.undoWords.empty() && !values.locked);
    enable(redo, !values.redoWords.empty() && !values.locked);
    const auto told = [](juce::TextButton& button, const char* what, const std::string& act, const char* key)
    {
        const auto name = act.empty() ? juce::String(what) : what + (": " + juce::String::fromUTF8(act.c_str()));
        button.setTooltip(name + ". Key: " + key + ".");
        button.setDescription(name);
    };
    told(undo, "Undo", values.undoWords, "Z");
    told(redo, "Redo", values.redoWords, "shift and Z");
    freeze.setButtonText(values.freezeWords.empty() ? juce::String("Freeze")
                         : !frozen                  ? juce::String::fromUTF8(values.freezeWords.c_str())
                         : values.hasLag            ? "Frozen at " + lagText(values.applied().lag, LagUnit::ms, {})
                                                    : juce::String("Frozen as recorded"));
    const auto light = [](juce::TextButton& button, bool isDue)
    {
        if (static_cast<bool>(button.getProperties()[Look::due]) == isDue) return;
        button.getProperties().set(Look::due, isDue);
        button.repaint();
    };
    light(freeze, values.phase == Phase::settled && !values.locked);
    light(measure, frozen && !values.hasLag && !values.locked);
}

void Acts::press(const juce::String& title)
{
    for (auto* button : {&freeze, &measure, &apply, &undo, &redo, &lock})
        if (button->getTitle() == title && button->isEnabled()) button->onClick();
}

void Acts::resized()
{
    auto area = getLocalBounds();
    freeze.setBounds(area.removeFromTop(30));
    area.removeFromTop(3);
    constexpr int gap = 3;
    const int whole = area.getWidth() - 4 * gap;
    for (auto [button, share] :
         {std::pair{&measure, 27}, std::pair{&apply, 19}, std::pair{&undo, 16}, std::pair{&redo, 16}})
    {
        button->setBounds(area.removeFromLeft(whole * share / 100));
        area.removeFromLeft(gap);
    }
    lock.setBounds(area);
}
} // namespace tarry
