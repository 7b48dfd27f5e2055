#include "Editor/WhyPage.h"

#include "Editor/Look.h"
#include "Editor/Words.h"

#include <cmath>

namespace tarry
{
namespace
{
constexpr int rowHeight = 17, nameWidth = 128;
} // namespace

WhyPage::WhyPage()
{
    setTitle("Why");
    viewport.setViewedComponent(&text, false);
    viewport.setScrollBarsShown(true, false);
    viewport.setScrollBarThickness(8);
    viewport.setTitle("Reasons and figures");
    viewport.setWantsKeyboardFocus(true);
    addAndMakeVisible(viewport);
}

void WhyPage::update(const EditorModel& model)
{
    auto reasons = reasonWords(model);
    auto figures = allFigures(model);
    if (reasons == text.reasons && figures == text.figures) return;
    text.reasons = std::move(reasons);
    text.figures = std::move(figures);
    juce::String spoken = text.reasons.joinIntoString(" ");
    for (const auto& [name, value] : text.figures) spoken << " " << name << ": " << value << ".";
    text.setDescription(spoken);
    viewport.setDescription(spoken);
    text.fit(viewport.getMaximumVisibleWidth());
    text.repaint();
}

void WhyPage::resized()
{
    viewport.setBounds(getLocalBounds());
    text.fit(viewport.getMaximumVisibleWidth());
}

juce::TextLayout WhyPage::Text::reasonLines(int width, juce::Colour colour) const
{
    juce::AttributedString string;
    string.append(reasons.joinIntoString("\n"), Look::font(Look::small), colour);
    string.setWordWrap(juce::AttributedString::byWord);
    string.setLineSpacing(2.0F);
    juce::TextLayout layout;
    layout.createLayout(string, static_cast<float>(width - 12));
    return layout;
}

void WhyPage::Text::fit(int width)
{
    if (width <= 0) return;
    const auto height = juce::roundToInt(std::ceil(reasonLines(width, {}).getHeight()));
    setSize(width, height + 12 + rowHeight * static_cast<int>(figures.size()));
}

void WhyPage::Text::paint(juce::Graphics& g)
{
    const auto& theme = Look::of(*this);
    const auto layout = reasonLines(getWidth(), theme.ink);
    layout.draw(g, getLocalBounds().toFloat().withWidth(static_cast<float>(getWidth() - 12)));
    int y = juce::roundToInt(std::ceil(layout.getHeight())) + 8;
    g.setColour(theme.line);
    g.fillRect(0, y - 1, getWidth() - 12, 1);
    g.setFont(Look::font(Look::small));
    for (const auto& [name, value] : figures)
    {
        g.setColour(theme.dim);
        Look::write(g, name, juce::Rectangle<int>(0, y, nameWidth, rowHeight), juce::Justification::centredLeft);
        g.setColour(theme.ink);
        Look::write(g, value, juce::Rectangle<int>(nameWidth, y, getWidth() - 12 - nameWidth, rowHeight),
                    juce::Justification::centredLeft);
        y += rowHeight;
    }
}
} // namespace tarry
