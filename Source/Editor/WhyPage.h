#pragma once
#include "Editor/EditorModel.h"
#include "Editor/Figures.h"

#include <juce_gui_basics/juce_gui_basics.h>

#include <vector>

namespace tarry
{
/// Every reason in full, and the figures behind them. Scrolls where there is more than fits.
class WhyPage : public juce::Component
{
public:
    WhyPage();

    void update(const EditorModel&);
    void resized() override;

private:
    struct Text : juce::Component
    {
        juce::StringArray reasons;
        std::vector<Figure> figures;

        void fit(int width);
        void paint(juce::Graphics&) override;
        [[nodiscard]] juce::TextLayout reasonLines(int width, juce::Colour) const;
    };

    Text text;
    juce::Viewport viewport;
};
} // namespace tarry
