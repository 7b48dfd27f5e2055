#pragma once
#include <juce_gui_basics/juce_gui_basics.h>

#include <functional>
#include <memory>
#include <vector>

namespace tarry
{
/// One of a few: a row of buttons of which one is chosen. Tab reaches each; left and right step through them.
class Segments : public juce::Component
{
public:
    struct Item
    {
        juce::String text, tooltip;
    };

    /// `name` is what a screen reader says before each item's own text.
    Segments(const juce::String& name, const std::vector<Item>& items);

    std::function<void(int)> onChange;

    /// Shows a choice without telling anyone.
    void choose(int index);
    [[nodiscard]] int chosen() const { return current; }

    /// Another text on one of them; its name for a screen reader stays.
    void rename(int index, const juce::String& text) { buttons[static_cast<std::size_t>(index)]->setButtonText(text); }
    /// Leaves one out, or has it back; the others share the place.
    void offer(int index, bool isOffered);

    void resized() override;
    bool keyPressed(const juce::KeyPress&) override;

private:
    void pick(int index);

    std::vector<std::unique_ptr<juce::TextButton>> buttons;
    int current = -1;
};

/// Enables or disables; what is disabled gives the keyboard to what holds it, so that keys still work.
void enable(juce::Component& component, bool isEnabled);
/// The same before something is hidden.
void handOnFocus(juce::Component& component);

/// A text button with everything that a reader, a mouse and a keyboard need to know of it.
void describe(juce::Component& component, juce::SettableTooltipClient& client, const juce::String& title,
              const juce::String& help);
} // namespace tarry
