#pragma once
#include "Editor/ValueSlider.h"

namespace tarry
{
/// Lean, and who is heard first in the sum with it.
class LeanControl : public juce::Component
{
public:
    explicit LeanControl(EditorTarget&);

    void update(const EditorModel&);
    void paint(juce::Graphics&) override;
    void resized() override;

private:
    ValueSlider slider;
    juce::String words;
};
} // namespace tarry
