#pragma once
#include "Editor/EditorTarget.h"

#include <juce_gui_basics/juce_gui_basics.h>

namespace tarry
{
/// What was measured and waits to be taken: the new lag with the old one in view, one button to apply it and one to
/// keep what is held. Nothing moves before that.
class OfferPanel : public juce::Component
{
public:
    explicit OfferPanel(EditorTarget&);

    /// True where there is something to be offered.
    bool update(const EditorModel&);
    void paint(juce::Graphics&) override;
    void resized() override;
    void press(); ///< as the key does

    static constexpr int height = 60; ///< px

private:
    juce::String words;
    juce::TextButton apply, keep;
};
} // namespace tarry
