#include "Editor/HearControl.h"

#include "Editor/Words.h"

namespace tarry
{
HearControl::HearControl(EditorTarget& other)
    : target(other), sides("Hear", {{"As recorded", "Hear the spot as it was recorded. Key: A."},
                                    {"Aligned", "Hear the spot as it is set. Key: A."}})
{
    setTitle("A/B");
    sides.onChange = [this](int side) { turn(&Controls::aligned, side == 1); };
    describe(matched, matched, "Level-matched",
             "Both sides equally loud in the blend, to 0.1 LU, so that louder does not pass for better.");
    describe(twoLags, twoLags, "Two lags",
             "The A/B is between what is held and the lag measured beside it, or offered.");
    matched.onClick = [this] { turn(&Controls::levelMatched, matched.getToggleState()); };
    twoLags.onClick = [this] { turn(&Controls::compareLags, twoLags.getToggleState()); };
    addAndMakeVisible(sides);
    addAndMakeVisible(matched);
    addAndMakeVisible(twoLags);
}

void HearControl::turn(Control control, bool on)
{
    target.begin(control);
    target.set(control, on ? 1.0 : 0.0);
    target.end(control);
}

void HearControl::turnOver()
{
    if (isEnabled()) turn(&Controls::aligned, sides.chosen() != 1);
}

void HearControl::update(const EditorModel& model)
{
    const auto& controls = model.values.controls;
    sides.choose(controls.aligned ? 1 : 0);
    const bool compares = controls.compareLags && otherLag(model).has_value();
    sides.rename(0, compares ? "Other lag" : "As recorded");
    sides.rename(1, compares ? "Held lag" : "Aligned");
    matched.setToggleState(controls.levelMatched, juce::dontSendNotification);
    twoLags.setToggleState(controls.compareLags, juce::dontSendNotification);
    twoLags.setEnabled(controls.compareLags || otherLag(model).has_value());
}

void HearControl::resized()
{
    auto area = getLocalBounds();
    auto below = area.removeFromBottom(17);
    matched.setBounds(below.removeFromLeft(below.getWidth() * 57 / 100));
    twoLags.setBounds(below);
    sides.setBounds(area.withTrimmedBottom(2));
}
} // namespace tarry
