#pragma once
#include <juce_graphics/juce_graphics.h>

#include <vector>

namespace tarry
{
/// While one of these is alive, every line of text that is drawn wider than its place is noted: how the tests know that
/// no text is cut. Costs a comparison with null where there is none. [screen]
class TextAudit
{
public:
    TextAudit();
    ~TextAudit();
    TextAudit(const TextAudit&) = delete;
    TextAudit& operator=(const TextAudit&) = delete;

    /// What was cut, as "text (width needed > width there)".
    juce::StringArray cut;
    int lines = 0; ///< how many lines were drawn

    /// Where each was written, in the coordinates of whoever painted it.
    struct Line
    {
        juce::String text;
        juce::Rectangle<float> area;
    };
    std::vector<Line> written;

    static void note(const juce::Font&, const juce::String&, juce::Rectangle<float> place, juce::Justification);
    /// The same for a paragraph that needs `height` pixels.
    static void noteLines(const juce::String&, float height, juce::Rectangle<float> place);

private:
    static TextAudit*& current();
};
} // namespace tarry
