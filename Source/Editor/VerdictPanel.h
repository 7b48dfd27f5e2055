#pragma once
#include "Editor/EditorModel.h"

#include <juce_gui_basics/juce_gui_basics.h>

#include <functional>

namespace tarry
{
/// Align, leave or unsure; how sure; and why, in words. Faults of the input come first.
class VerdictPanel : public juce::Component, public juce::SettableTooltipClient
{
public:
    VerdictPanel();

    /// Asked for when there are more reasons than fit.
    std::function<void()> onMore;

    void update(const EditorModel&);

    void paint(juce::Graphics&) override;
    void resized() override;

    /// The reasons that are drawn, and how many did not fit.
    [[nodiscard]] int reasonsLeftOut() const { return leftOut; }

private:
    enum class Sign
    {
        align,
        leave,
        unsure,
        waiting,
        held,
        fault
    };

    void layOut();
    void drawSign(juce::Graphics&, juce::Rectangle<float>) const;

    Sign sign = Sign::waiting;
    juce::String verdict, confidence;
    juce::StringArray reasons;
    double share = 0.0; ///< of the bar, 0 to 1
    bool showsBar = false;
    juce::String shownReasons;
    float reasonHeight = 12.5F;
    int leftOut = 0;
    juce::TextButton more;
};
} // namespace tarry
