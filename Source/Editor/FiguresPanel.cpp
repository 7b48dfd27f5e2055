#include "Editor/FiguresPanel.h"

#include "Editor/Look.h"

namespace tarry
{
FiguresPanel::FiguresPanel()
{
    setTitle("Figures");
    setInterceptsMouseClicks(false, false);
}

void FiguresPanel::update(const EditorModel& model)
{
    auto next = briefFigures(model);
    if (next == figures) return;
    figures = std::move(next);
    juce::String spoken;
    for (const auto& [name, value] : figures) spoken << name << ": " << value << ". ";
    setDescription(spoken.trim());
    repaint();
}

void FiguresPanel::paint(juce::Graphics& g)
{
    const auto& theme = Look::of(*this);
    const auto font = Look::font(Look::small);
    g.setFont(font);
    auto area = getLocalBounds();
    for (int i = 0; i < std::min(rowsThatFit(), static_cast<int>(figures.size())); ++i)
    {
        const auto& [name, value] = figures[static_cast<std::size_t>(i)];
        auto row = area.removeFromTop(rowHeight);
        g.setColour(theme.line.withAlpha(0.6F));
        g.fillRect(row.removeFromBottom(1));
        g.setColour(theme.dim);
        Look::write(g, name, row.removeFromLeft(font.getStringWidth(name) + 6), juce::Justification::centredLeft);
        g.setColour(theme.ink);
        Look::write(g, value, row, juce::Justification::centredRight);
    }
}
} // namespace tarry
