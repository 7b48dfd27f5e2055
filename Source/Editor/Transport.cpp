#include "Editor/Transport.h"

#include "Editor/Look.h"
#include "Editor/Words.h"

namespace tarry
{
HearControl::HearControl(EditorTarget& other)
    : target(other),
      sides("Hear", {{"As recorded", juce::String("Hear the spot as it was recorded. ") + monitorCaution},
                     {"Aligned", juce::String("Hear the spot aligned to the room. ") + monitorCaution}})
{
    setTitle("A/B");
    sides.onChange = [this](int side)
    {
        target.begin(Control::aligned);
        target.set(Control::aligned, side);
        target.end(Control::aligned);
    };
    addAndMakeVisible(sides);
}

void HearControl::update(const EditorModel& model)
{
    sides.choose(model.values.controls.aligned ? 1 : 0);
}

void HearControl::paint(juce::Graphics& g)
{
    g.setColour(Look::of(*this).dim);
    g.setFont(Look::font(Look::body));
    Look::write(g, "Hear", getLocalBounds().withHeight(18), juce::Justification::centredLeft);
}

void HearControl::resized()
{
    sides.setBounds(0, 22, getWidth(), 32);
}

Transport::Transport(EditorTarget& target)
{
    setTitle("Measuring");
    const auto add = [this](juce::TextButton& button, const juce::String& text, const juce::String& help)
    {
        button.setButtonText(text);
        describe(button, button, text, help);
        addAndMakeVisible(button);
    };
    add(measure, "Measure", "Measures again. What is held stays applied until something new is applied.");
    add(freeze, "Freeze", "Holds lag and polarity for good and stops measuring.");
    add(apply, "Apply", "Applies the measured lag and polarity as they are, sure or not, and freezes.");
    add(undo, "Undo", "Back to the lag held before; again: forward.");
    measure.onClick = [&target] { target.measure(); };
    freeze.onClick = [&target] { target.freeze(); };
    apply.onClick = [&target] { target.apply(); };
    undo.onClick = [&target] { target.undo(); };
}

void Transport::update(const EditorModel& model)
{
    const bool frozen = model.values.phase == Phase::frozen;
    // The one that can be done now takes the keyboard over from the one that has just been done.
    auto& next = frozen ? measure : freeze;
    auto& last = frozen ? freeze : measure;
    next.setEnabled(true);
    if (last.hasKeyboardFocus(false)) next.grabKeyboardFocus();
    last.setEnabled(false);
    const auto& report = model.report;
    const bool taken = model.values.hasLag && report.lag && model.values.applied().lag == *report.lag &&
                       model.values.applied().polarity == report.polarity.value_or(Polarity::normal) && frozen;
    apply.setEnabled(report.lag.has_value() && !taken);
    undo.setEnabled(model.values.canUndo);
    const auto words = model.trial.running ? juce::String("blind trial") : hitWords(model);
    const bool isIdle = !frozen && report.input != InputState::good;
    if (phase == model.values.phase && hits == words && idle == isIdle) return;
    phase = model.values.phase;
    idle = isIdle;
    hits = words;
    setDescription(phaseName(phase) + ", " + hits);
    repaint();
}

void Transport::paint(juce::Graphics& g)
{
    const auto& theme = Look::of(*this);
    // A sign for each phase: rings that open (measuring), a filled disc (settled), a square that stays (frozen).
    const auto box =
        juce::Rectangle<float>(0.0F, 0.0F, 14.0F, static_cast<float>(getHeight())).withSizeKeepingCentre(14.0F, 14.0F);
    g.setColour(theme.ink);
    if (phase == Phase::frozen)
        g.fillRect(box.reduced(2.5F));
    else if (phase == Phase::settled)
    {
        g.drawEllipse(box.reduced(1.0F), 1.3F);
        g.fillEllipse(box.reduced(4.0F));
    }
    else
    {
        g.drawEllipse(box.reduced(1.0F), 1.3F);
        g.drawEllipse(box.reduced(4.5F), 1.3F);
    }
    const auto bold = Look::font(Look::body + 1.0F, true);
    const auto name = phaseName(phase);
    const int width = bold.getStringWidth(name) + 8;
    g.setFont(bold);
    Look::write(g, name, juce::Rectangle<int>(20, 0, width, getHeight()), juce::Justification::centredLeft);
    g.setColour(theme.dim);
    g.setFont(Look::font(Look::body));
    Look::write(g, idle ? juce::String() : hits,
                juce::Rectangle<int>(20 + width, 0, measure.getX() - 24 - width, getHeight()),
                juce::Justification::centredLeft);
}

void Transport::resized()
{
    auto area = getLocalBounds();
    for (auto* button : {&undo, &apply, &freeze, &measure})
    {
        button->setBounds(area.removeFromRight(54));
        area.removeFromRight(3);
    }
}
} // namespace tarry
