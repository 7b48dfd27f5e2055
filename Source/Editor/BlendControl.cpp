#include "Editor/BlendControl.h"

#include "Editor/Look.h"
#include "Editor/Segments.h"
#include "Editor/Words.h"

#include <cmath>

namespace tarry
{
BlendControl::BlendControl(EditorTarget& target)
    : on("Blend in room"), level("Room", juce::String("Level of the room in the blend. ") + monitorCaution,
                                 {-40.0, 12.0, 0.5, 0.0, "dB", 1, true})
{
    describe(
        on, on, "Blend",
        juce::String("Adds the room to the output, for judging only: off in an offline render, never saved as on. ") +
            monitorCaution);
    on.onClick = [this, &target]
    {
        target.begin(Control::blend);
        target.set(Control::blend, on.getToggleState() ? 1.0 : 0.0);
        target.end(Control::blend);
    };
    level.bind(target, Control::blendDb, 1.0);
    addAndMakeVisible(on);
    addAndMakeVisible(level);
}

void BlendControl::update(const EditorModel& model)
{
    const auto& controls = model.values.controls;
    on.setToggleState(controls.blend, juce::dontSendNotification);
    level.show(20.0 * std::log10(controls.blendGain));
    if (controls.blend == isOn) return;
    isOn = controls.blend;
    repaint();
}

void BlendControl::paint(juce::Graphics& g)
{
    const auto& theme = Look::of(*this);
    const bool trialRuns = !isEnabled();
    if (isOn && !trialRuns) // a hatched edge and a line of words: it must not be forgotten
    {
        const auto edge = getLocalBounds().removeFromLeft(4);
        const juce::Graphics::ScopedSaveState saved(g);
        g.reduceClipRegion(edge);
        g.setColour(theme.caution);
        for (int y = -8; y < getHeight(); y += 6)
            g.drawLine(0.0F, static_cast<float>(y + 8), 8.0F, static_cast<float>(y), 2.0F);
    }
    g.setColour(isOn && !trialRuns ? theme.caution : theme.dim);
    g.setFont(Look::font(Look::small));
    Look::write(g,
                trialRuns ? "the trial adds the room"
                : isOn    ? "temporary, not rendered"
                          : "for judging only",
                getLocalBounds().withTop(62).withHeight(16).withTrimmedLeft(8), juce::Justification::centredLeft);
}

void BlendControl::resized()
{
    auto area = getLocalBounds().withTrimmedLeft(8);
    on.setBounds(area.removeFromTop(20));
    level.setBounds(area.removeFromTop(40).withTrimmedTop(2));
}
} // namespace tarry
