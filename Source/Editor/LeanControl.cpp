#include "Editor/LeanControl.h"

#include "Editor/Look.h"
#include "Editor/Words.h"

namespace tarry
{
LeanControl::LeanControl(EditorTarget& target)
    : slider("Lean", "Leans the spot back behind the room (more) or ahead of it (less), on top of the lag.",
             {-20.0, 30.0, 0.1, 0.0, "ms", 1, true}),
      words("once there is a lag")
{
    setTitle("Lean and the sum");
    slider.bind(target, &Controls::lean);
    addAndMakeVisible(slider);
}

void LeanControl::update(const EditorModel& model)
{
    slider.show(model.values.controls.lean * 1e3);
    const auto next = leanWords(model);
    if (next == words) return;
    words = next;
    repaint();
}

void LeanControl::paint(juce::Graphics& g)
{
    g.setColour(Look::of(*this).dim);
    g.setFont(Look::font(Look::small));
    Look::write(g, words, getLocalBounds().removeFromBottom(15), juce::Justification::centredLeft);
}

void LeanControl::resized()
{
    slider.setBounds(getLocalBounds().withTrimmedBottom(15));
}
} // namespace tarry
