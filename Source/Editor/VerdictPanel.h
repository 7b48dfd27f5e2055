#pragma once
#include "Editor/EditorModel.h"

#include <juce_gui_basics/juce_gui_basics.h>

#include <functional>

namespace tarry
{
/// Align, leave or unsure, by colour, shape and word; how sure; and why. Faults of the input come first; beside a lag
/// that was set by hand it goes grey and says that it speaks of another.
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
    [[nodiscard]] juce::Colour colour() const;
    void drawSign(juce::Graphics&, juce::Rectangle<float>) const;

    Sign sign = Sign::waiting;
    juce::String verdict, confidence;
    juce::StringArray reasons;
    bool ofAnotherLag = false;
    juce::String shownReasons;
    int reasonWidth = 0; ///< px
    int leftOut = 0;
    juce::TextButton more;
};
} // namespace tarry
