#include "Editor/BlendControl.h"

#include "Editor/Look.h"
#include "Editor/Segments.h"

#include <cmath>

namespace tarry
{
namespace
{
constexpr int edgeWidth = 7; // px, of the hatching
}

BlendControl::BlendControl(EditorTarget& other)
    : target(other), on("Blend"), level("room", "Level of the room in the blend, and in the sum that is drawn.",
                                        {-40.0, 12.0, 0.5, 0.0, "dB", 1, true})
{
    describe(on, on, "Blend",
             "Adds the room to the output, for judging only: off in an offline render, never saved as on. Key: B.");
    level.setTitle("Room");
    on.onClick = [this] { turn(on.getToggleState()); };
    level.bind(target, &Controls::blendGain);
    addAndMakeVisible(on);
    addAndMakeVisible(level);
}

void BlendControl::turn(bool isWanted)
{
    target.begin(&Controls::blend);
    target.set(&Controls::blend, isWanted ? 1.0 : 0.0);
    target.end(&Controls::blend);
}

void BlendControl::turnOver()
{
    if (isEnabled()) turn(!isOn);
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
                : isOn    ? "never rendered"
                          : "",
                getLocalBounds().removeFromBottom(15).withTrimmedLeft(edgeWidth), juce::Justification::centredLeft);
}

void BlendControl::resized()
{
    auto area = getLocalBounds().withTrimmedLeft(edgeWidth).withTrimmedBottom(15);
    on.setBounds(area.removeFromLeft(53).withHeight(18));
    level.setBounds(area);
}
} // namespace tarry
