#pragma once
#include "Editor/EditorTarget.h"
#include "Editor/Segments.h"

#include <juce_gui_basics/juce_gui_basics.h>

namespace tarry
{
/// The blind trial: does aligning make a difference here? Asks, never tells before the end.
class TrialPage : public juce::Component
{
public:
    explicit TrialPage(TrialTarget&);

    void update(const EditorModel&);
    /// Keys of the trial: A, B and X hear, 1 and 2 answer. False: none of them, or none now.
    bool press(const juce::KeyPress&);
    void paint(juce::Graphics&) override;
    void resized() override;

private:
    [[nodiscard]] juce::String explanation() const;
    [[nodiscard]] juce::String progress() const;

    TrialValues trial;
    bool shownOnce = false;
    Segments question;
    juce::TextButton start, stop, copy, more;
    bool showsDetails = false;
    Segments hear;
    juce::TextButton answerA, answerB;
};
} // namespace tarry
