#include "Editor/Segments.h"

namespace tarry
{
void describe(juce::Component& component, juce::SettableTooltipClient& client, const juce::String& title,
              const juce::String& help)
{
    component.setTitle(title);
    component.setDescription(help);
    component.setHelpText(help);
    component.setWantsKeyboardFocus(true);
    client.setTooltip(help);
}

void handOnFocus(juce::Component& component)
{
    if (!component.hasKeyboardFocus(true)) return;
    for (auto* at = component.getParentComponent(); at != nullptr; at = at->getParentComponent())
        if (at->getWantsKeyboardFocus() && at->isEnabled())
        {
            at->grabKeyboardFocus();
            return;
        }
}

void enable(juce::Component& component, bool isEnabled)
{
    if (!isEnabled) handOnFocus(component);
    component.setEnabled(isEnabled);
}

Segments::Segments(const juce::String& name, const std::vector<Item>& items)
{
    setTitle(name);
    for (std::size_t i = 0; i < items.size(); ++i)
    {
        auto& button = *buttons.emplace_back(std::make_unique<juce::TextButton>(items[i].text));
        describe(button, button, name + ": " + items[i].text, items[i].tooltip);
        const int index = static_cast<int>(i);
        button.onClick = [this, index] { pick(index); };
        addAndMakeVisible(button);
    }
}

void Segments::choose(int index)
{
    if (index == current) return;
    current = index;
    for (std::size_t i = 0; i < buttons.size(); ++i)
        buttons[i]->setToggleState(static_cast<int>(i) == index, juce::dontSendNotification);
}

void Segments::pick(int index)
{
    choose(index);
    if (onChange) onChange(index);
}

void Segments::offer(int index, bool isOffered)
{
    auto& button = *buttons[static_cast<std::size_t>(index)];
    if (button.isVisible() == isOffered) return;
    button.setVisible(isOffered);
    resized();
}

void Segments::resized()
{
    std::vector<juce::TextButton*> shown;
    for (auto& button : buttons)
        if (button->isVisible()) shown.push_back(button.get());
    const auto count = static_cast<int>(shown.size());
    constexpr int gap = 2;
    for (int i = 0; i < count; ++i)
    {
        const int left = i * (getWidth() + gap) / count, right = (i + 1) * (getWidth() + gap) / count - gap;
        shown[static_cast<std::size_t>(i)]->setBounds(left, 0, right - left, getHeight());
    }
}

bool Segments::keyPressed(const juce::KeyPress& key)
{
    const int step = key == juce::KeyPress::rightKey ? 1 : key == juce::KeyPress::leftKey ? -1 : 0;
    if (step == 0) return false;
    const int next = juce::jlimit(0, static_cast<int>(buttons.size()) - 1, current + step);
    if (!buttons[static_cast<std::size_t>(next)]->isVisible()) return true;
    if (next != current) pick(next);
    buttons[static_cast<std::size_t>(next)]->grabKeyboardFocus();
    return true;
}
} // namespace tarry
