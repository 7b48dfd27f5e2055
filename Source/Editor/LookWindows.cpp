// What JUCE draws by itself around the controls, in our colours: windows, menus, tooltips, the file chooser.
#include "Editor/Look.h"

namespace tarry
{
void Look::applyColours()
{
    setColour(juce::ResizableWindow::backgroundColourId, current.ground);
    setColour(juce::Label::textColourId, current.ink);
    setColour(juce::Label::textWhenEditingColourId, current.ink);
    setColour(juce::Label::outlineWhenEditingColourId, current.focus);
    setColour(juce::TextEditor::backgroundColourId, current.panel);
    setColour(juce::TextEditor::textColourId, current.ink);
    setColour(juce::TextEditor::highlightColourId, current.room.withAlpha(0.35F));
    setColour(juce::TextEditor::highlightedTextColourId, current.ink);
    setColour(juce::TextEditor::outlineColourId, current.line);
    setColour(juce::TextEditor::focusedOutlineColourId, current.focus);
    setColour(juce::CaretComponent::caretColourId, current.ink);
    setColour(juce::ComboBox::textColourId, current.ink);
    setColour(juce::PopupMenu::backgroundColourId, current.panel);
    setColour(juce::PopupMenu::textColourId, current.ink);
    setColour(juce::PopupMenu::headerTextColourId, current.dim);
    setColour(juce::PopupMenu::highlightedBackgroundColourId, current.ink);
    setColour(juce::PopupMenu::highlightedTextColourId, current.ground);
    setColour(juce::Slider::textBoxTextColourId, current.ink);
    setColour(juce::Slider::textBoxOutlineColourId, juce::Colours::transparentBlack);
    setColour(juce::Slider::textBoxHighlightColourId, current.room.withAlpha(0.35F));
    setColour(juce::ScrollBar::thumbColourId, current.dim);
    setColour(juce::TooltipWindow::textColourId, current.ink);
    // Dialogs: JUCE's own windows in the same colours.
    setColour(juce::AlertWindow::backgroundColourId, current.ground);
    setColour(juce::AlertWindow::textColourId, current.ink);
    setColour(juce::AlertWindow::outlineColourId, current.line);
    setColour(juce::TextButton::buttonColourId, current.control);
    setColour(juce::TextButton::buttonOnColourId, current.ink);
    setColour(juce::TextButton::textColourOffId, current.ink);
    setColour(juce::TextButton::textColourOnId, current.ground);
    setColour(juce::ToggleButton::textColourId, current.ink);
    setColour(juce::ToggleButton::tickColourId, current.ink);
    setColour(juce::ComboBox::backgroundColourId, current.control);
    setColour(juce::ComboBox::outlineColourId, current.line);
    setColour(juce::ComboBox::arrowColourId, current.dim);
    setColour(juce::ListBox::backgroundColourId, current.panel);
    setColour(juce::ListBox::textColourId, current.ink);
    setColour(juce::ListBox::outlineColourId, current.line);
    setColour(juce::FileBrowserComponent::currentPathBoxBackgroundColourId, current.control);
    setColour(juce::FileBrowserComponent::currentPathBoxTextColourId, current.ink);
    setColour(juce::FileBrowserComponent::currentPathBoxArrowColourId, current.dim);
    setColour(juce::FileBrowserComponent::filenameBoxBackgroundColourId, current.panel);
    setColour(juce::FileBrowserComponent::filenameBoxTextColourId, current.ink);
    setColour(juce::FileChooserDialogBox::titleTextColourId, current.ink);
    setColour(juce::DirectoryContentsDisplayComponent::textColourId, current.ink);
    setColour(juce::DirectoryContentsDisplayComponent::highlightColourId, current.ink);
    setColour(juce::DirectoryContentsDisplayComponent::highlightedTextColourId, current.ground);
    setColour(juce::GroupComponent::outlineColourId, current.line);
    setColour(juce::GroupComponent::textColourId, current.dim);
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
