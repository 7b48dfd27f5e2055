#pragma once
#include "Editor/EditorTarget.h"

#include <juce_gui_basics/juce_gui_basics.h>

namespace tarry
{
/// One number: its name and the number, which can be typed, over a track. Arrow keys step (with shift ten times as
/// far), Enter types, double-click or Delete returns to the default.
class ValueSlider : public juce::Slider
{
public:
    /// In the surface's unit: ms, dB, degrees.
    struct Range
    {
        double least = 0.0, most = 1.0, step = 0.1, normal = 0.0;
        juce::String unit;
        int decimals = 1;
        bool sign = false;        ///< writes a plus before positive numbers
        juce::String atZero = {}; ///< written in place of nought; empty: the number
    };

    ValueSlider(const juce::String& caption, const juce::String& help, const Range& range);

    /// Turns `control` through `target`, one gesture for each drag, key or typed value.
    void bind(EditorTarget& target, Control control);
    /// Shows a value (in the surface's unit) without telling anyone, unless it is being dragged.
    void show(double value);

    void paint(juce::Graphics&) override;
    bool keyPressed(const juce::KeyPress&) override;
    void focusGained(FocusChangeType) override { repaint(); }
    void focusLost(FocusChangeType) override { repaint(); }

private:
    juce::String caption;
    Range shape;
    bool dragging = false;
};
} // namespace tarry
