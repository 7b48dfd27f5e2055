#pragma once
#include "Editor/ValueSlider.h"

namespace tarry
{
/// Spot and room summed inside the insert, for judging only; visibly temporary while it is on.
class BlendControl : public juce::Component
{
public:
    explicit BlendControl(EditorTarget&);

    void update(const EditorModel&);
    void turnOver(); ///< on or off, as the key does
    void paint(juce::Graphics&) override;
    void resized() override;

private:
    void turn(bool isWanted);

    EditorTarget& target;
    juce::ToggleButton on;
    ValueSlider level;
    bool isOn = false;
};
} // namespace tarry
