#pragma once
#include "Editor/EditorTarget.h"
#include "Editor/Segments.h"

#include <juce_gui_basics/juce_gui_basics.h>

namespace tarry
{
/// The A/B: as recorded or aligned, and what to mind when it is switched.
class HearControl : public juce::Component
{
public:
    explicit HearControl(EditorTarget&);

    void update(const EditorModel&);
    void paint(juce::Graphics&) override;
    void resized() override;

private:
    EditorTarget& target;
    Segments sides;
};

/// Measuring, settled or frozen; and the acts that lead from one to the other.
class Transport : public juce::Component
{
public:
    explicit Transport(EditorTarget&);

    void update(const EditorModel&);
    void paint(juce::Graphics&) override;
    void resized() override;

private:
    Phase phase = Phase::measuring;
    bool idle = false; ///< measuring, but nothing that can be measured comes in
    juce::String hits;
    juce::TextButton measure, freeze, apply, undo;
};
} // namespace tarry
