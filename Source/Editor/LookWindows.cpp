// What JUCE draws by itself around the controls, in our colours: windows, menus, tooltips, the file chooser.
#include "Editor/Look.h"

#include <utility>
#include <vector>

namespace tarry
{
void Look::applyColours()
{
    using namespace juce;
    const std::pair<Colour, std::vector<int>> inOurs[] = {
        {current.ground,
         {ResizableWindow::backgroundColourId, AlertWindow::backgroundColourId, PopupMenu::highlightedTextColourId,
          TextButton::textColourOnId, DirectoryContentsDisplayComponent::highlightedTextColourId}},
        {current.panel,
         {TextEditor::backgroundColourId, PopupMenu::backgroundColourId, ListBox::backgroundColourId,
          FileBrowserComponent::filenameBoxBackgroundColourId}},
        {current.control,
         {TextButton::buttonColourId, ComboBox::backgroundColourId,
          FileBrowserComponent::currentPathBoxBackgroundColourId}},
        {current.line,
         {TextEditor::outlineColourId, AlertWindow::outlineColourId, ComboBox::outlineColourId,
          ListBox::outlineColourId, GroupComponent::outlineColourId}},
        {current.ink,
         {Label::textColourId,
          Label::textWhenEditingColourId,
          TextEditor::textColourId,
          TextEditor::highlightedTextColourId,
          CaretComponent::caretColourId,
          ComboBox::textColourId,
          PopupMenu::textColourId,
          PopupMenu::highlightedBackgroundColourId,
          Slider::textBoxTextColourId,
          TooltipWindow::textColourId,
          AlertWindow::textColourId,
          TextButton::buttonOnColourId,
          TextButton::textColourOffId,
          ToggleButton::textColourId,
          ToggleButton::tickColourId,
          ListBox::textColourId,
          FileBrowserComponent::currentPathBoxTextColourId,
          FileBrowserComponent::filenameBoxTextColourId,
          FileChooserDialogBox::titleTextColourId,
          DirectoryContentsDisplayComponent::textColourId,
          DirectoryContentsDisplayComponent::highlightColourId}},
        {current.dim,
         {PopupMenu::headerTextColourId, ScrollBar::thumbColourId, ComboBox::arrowColourId,
          FileBrowserComponent::currentPathBoxArrowColourId, GroupComponent::textColourId}},
        {current.focus, {Label::outlineWhenEditingColourId, TextEditor::focusedOutlineColourId}},
        {current.room.withAlpha(0.35F), {TextEditor::highlightColourId, Slider::textBoxHighlightColourId}},
        {Colours::transparentBlack, {Slider::textBoxOutlineColourId}}};
    for (const auto& [colour, parts] : inOurs)
        for (const int part : parts) setColour(part, colour);
}

juce::Component* Look::within(juce::Component& component)
{
    auto* outermost = &component;
    for (auto* at = &component; at != nullptr; at = at->getParentComponent())
        if (&at->getLookAndFeel() == &component.getLookAndFeel()) outermost = at;
    return outermost;
}

void Look::dressChooser(const juce::Component& in)
{
    for (auto* child : in.getChildren())
        if (auto* dialog = dynamic_cast<juce::FileChooserDialogBox*>(child)) dialog->setBackgroundColour(of(in).ground);
}

juce::Font Look::getPopupMenuFont()
{
    return font(small);
}

void Look::drawCornerResizer(juce::Graphics& g, int w, int h, bool over, bool dragging)
{
    g.setColour(over || dragging ? current.ink : current.line);
    for (const float inset : {0.35F, 0.7F})
        g.drawLine(static_cast<float>(w), static_cast<float>(h) * inset, static_cast<float>(w) * inset,
                   static_cast<float>(h), 1.2F);
}

/// JUCE's own, but for size and date in an ink that can be read on any ground.
void Look::drawFileBrowserRow(juce::Graphics& g, int w, int h, const juce::File& file, const juce::String& name,
                              juce::Image* icon, const juce::String& size, const juce::String& time, bool isFolder,
                              bool isChosen, int, juce::DirectoryContentsDisplayComponent&)
{
    juce::ignoreUnused(file, icon);
    auto row = juce::Rectangle<int>(w, h).reduced(6, 0);
    if (isChosen)
    {
        g.setColour(current.ink);
        g.fillRect(0, 0, w, h);
    }
    const auto ink = isChosen ? current.ground : current.ink;
    auto sign = row.removeFromLeft(14).toFloat().withSizeKeepingCentre(10.0F, 8.0F);
    row.removeFromLeft(6);
    g.setColour(isChosen ? ink : current.dim);
    if (isFolder) // filled: something is in it
        g.fillRoundedRectangle(sign, 1.5F);
    else
        g.drawRoundedRectangle(sign, 1.5F, 1.0F);
    g.setFont(font(small));
    constexpr int timeWidth = 110, sizeWidth = 70, leastName = 180;
    if (!isFolder && row.getWidth() > leastName + timeWidth + sizeWidth)
    {
        g.drawText(time, row.removeFromRight(timeWidth), juce::Justification::centredRight);
        g.drawText(size, row.removeFromRight(sizeWidth), juce::Justification::centredRight);
    }
    g.setColour(ink);
    g.setFont(font(small, isFolder));
    g.drawText(shortened(name, g.getCurrentFont(), row.getWidth()), row, juce::Justification::centredLeft);
}

namespace
{
constexpr int tooltipWidth = 280;
}

juce::Rectangle<int> Look::getTooltipBounds(const juce::String& text, juce::Point<int> at, juce::Rectangle<int> parent)
{
    const auto layout = paragraph(text, tooltipWidth, current.ink);
    const int w = juce::roundToInt(std::ceil(layout.getWidth())) + 16,
              h = juce::roundToInt(std::ceil(layout.getHeight())) + 10;
    return juce::Rectangle<int>(at.x > parent.getCentreX() ? at.x - (w + 12) : at.x + 16,
                                at.y > parent.getCentreY() ? at.y - (h + 6) : at.y + 14, w, h)
        .constrainedWithin(parent);
}

void Look::drawTooltip(juce::Graphics& g, const juce::String& text, int w, int h)
{
    g.fillAll(current.panel);
    g.setColour(current.line);
    g.drawRect(0, 0, w, h);
    paragraph(text, tooltipWidth, current.ink).draw(g, juce::Rectangle<int>(w, h).toFloat().reduced(8.0F, 5.0F));
}
} // namespace tarry
