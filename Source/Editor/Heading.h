#pragma once
#include "Editor/EditorModel.h"

#include <juce_gui_basics/juce_gui_basics.h>

namespace tarry
{
/// The names of spot and room; and measuring, settled or frozen, with a sign and the hits.
class Heading : public juce::Component
{
public:
    Heading();

    void update(const EditorModel&);
    void paint(juce::Graphics&) override;

private:
    Phase phase = Phase::measuring;
    bool idle = false; ///< measuring, but nothing that can be measured comes in
    juce::String hits, names;
};
} // namespace tarry
