#pragma once
#include "Editor/EditorModel.h"

#include <juce_gui_basics/juce_gui_basics.h>

namespace tarry
{
/// The low end of the sum of spot and room for each polarity: where a low drum keeps its weight. The one in use is
/// marked.
class LowSumView : public juce::Component, public juce::SettableTooltipClient
{
public:
    LowSumView();

    void update(const EditorModel&);
    void paint(juce::Graphics&) override;

private:
    void paintRow(juce::Graphics&, juce::Rectangle<int>, Polarity) const;

    bool known = false;
    double normalDb = 0.0, invertedDb = 0.0;
    Polarity inUse = Polarity::normal;
};
} // namespace tarry
