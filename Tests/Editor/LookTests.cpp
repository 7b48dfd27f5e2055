#include "Editor/Look.h"

#include "Support/Catch.h"

using namespace tarry;

TEST_CASE("Look: the contrast formula gives the ends of its scale and a known middle", "[editor]")
{
    // WCAG 2.2: 21:1 for black on white, 1:1 for a colour on itself. #767676 on white is the usual example of the
    // darkest grey that just passes 4.5:1 (from memory: 4.54).
    CHECK(contrast(juce::Colours::black, juce::Colours::white) == Approx(21.0).margin(1e-6));
    CHECK(contrast(juce::Colours::red, juce::Colours::red) == Approx(1.0).margin(1e-6));
    CHECK(contrast(juce::Colour(0xff767676), juce::Colours::white) == Approx(4.54).margin(0.01));
}

TEST_CASE("Look: every text colour stands out from everything it is written on, in both themes", "[editor]")
{
    constexpr double least = 4.5; // WCAG 2.2, success criterion 1.4.3, level AA
    for (const auto& theme : {Theme::dark(), Theme::light()})
    {
        CAPTURE(theme.ground.toString().toStdString());
        for (const auto& ground : {theme.ground, theme.panel, theme.control})
            for (const auto& text : {theme.ink, theme.dim, theme.spot, theme.room, theme.caution})
            {
                INFO("text " << text.toString() << " on " << ground.toString() << ": " << contrast(text, ground)
                             << ", at least " << least);
                CHECK(contrast(text, ground) >= least);
            }
        INFO("chosen button: " << contrast(theme.ground, theme.ink));
        CHECK(contrast(theme.ground, theme.ink) >= least);
    }
}

TEST_CASE("Look: focus rings, tracks and marks stand out as WCAG 2.2 asks of what is no text", "[editor]")
{
    constexpr double least = 3.0; // success criterion 1.4.11
    for (const auto& theme : {Theme::dark(), Theme::light()})
        for (const auto& ground : {theme.ground, theme.panel, theme.control})
            for (const auto& mark : {theme.focus, theme.spot, theme.room, theme.ink})
            {
                INFO("mark " << mark.toString() << " on " << ground.toString() << ": " << contrast(mark, ground));
                CHECK(contrast(mark, ground) >= least);
            }
}
