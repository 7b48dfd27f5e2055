#include "Editor/Heading.h"

#include "Editor/Look.h"
#include "Editor/Words.h"

namespace tarry
{
Heading::Heading()
{
    setTitle("State");
}

void Heading::update(const EditorModel& model)
{
    const bool isIdle = model.values.phase != Phase::frozen && model.report.input != InputState::good;
    const auto words = model.trial.running ? juce::String("blind trial") : isIdle ? juce::String() : hitWords(model);
    const auto called = nameWords(model);
    if (phase == model.values.phase && hits == words && names == called) return;
    phase = model.values.phase;
    hits = words;
    names = called;
    setDescription((names.isEmpty() ? names : names + ": ") + phaseName(phase) + ", " + hits);
    repaint();
}

void Heading::paint(juce::Graphics& g)
{
    const auto& theme = Look::of(*this);
    auto area = getLocalBounds();
    // A sign for each phase: rings that open (measuring), a filled disc (settled), a square that stays (frozen).
    const auto box = area.removeFromLeft(16).toFloat().withSizeKeepingCentre(14.0F, 14.0F);
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
    area.removeFromLeft(4);
    const auto write = [&](const juce::String& text, bool bold, juce::Colour colour)
    {
        if (text.isEmpty() || area.getWidth() < 30) return;
        const auto font = Look::font(Look::small, bold);
        const auto kept = Look::shortened(text, font, area.getWidth());
        g.setFont(font);
        g.setColour(colour);
        Look::write(g, kept, area.removeFromLeft(font.getStringWidth(kept) + 4), juce::Justification::centredLeft);
        area.removeFromLeft(8);
    };
    write(phaseName(phase), true, theme.ink);
    write(hits, false, theme.dim);
    write(names, false, theme.ink);
}
} // namespace tarry
