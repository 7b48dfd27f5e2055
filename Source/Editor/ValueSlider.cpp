#include "Editor/ValueSlider.h"

#include "Editor/Look.h"
#include "Editor/Segments.h"

#include <cmath>

namespace tarry
{
namespace
{
constexpr int numberWidth = 52; // px
}

ValueSlider::ValueSlider(const juce::String& name, const juce::String& help, const Range& range)
    : caption(name), shape(range)
{
    describe(*this, *this, name, help + " Arrows step, Enter types, double-click or Delete: default.");
    setSliderStyle(juce::Slider::LinearHorizontal);
    setRange(range.least, range.most, range.step);
    setDoubleClickReturnValue(true, range.normal);
    setScrollWheelEnabled(false); // scrolling through a session must not turn anything
    textFromValueFunction = [this](double value)
    {
        const auto digits = juce::String(std::abs(value), shape.decimals);
        const bool isZero = digits.getDoubleValue() <= 0.0;
        if (isZero && shape.atZero.isNotEmpty()) return shape.atZero;
        const auto sign = isZero        ? juce::String()
                          : value < 0.0 ? juce::String::charToString(0x2212)
                                        : juce::String(shape.sign ? "+" : "");
        return sign + digits + " " + shape.unit;
    };
    valueFromTextFunction = [this](const juce::String& text)
    {
        const auto plain = text.trim().replace(juce::String::charToString(0x2212), "-").replaceCharacter(',', '.');
        // What is no number leaves the value as it was.
        return plain.containsAnyOf("0123456789") ? plain.getDoubleValue() : getValue();
    };
    setTextBoxStyle(juce::Slider::TextBoxAbove, false, numberWidth, 18);
    setValue(range.normal, juce::dontSendNotification);
    updateText();
}

void ValueSlider::bind(EditorTarget& target, Control control)
{
    onDragStart = [this, &target, control]
    {
        dragging = true;
        target.begin(control);
    };
    onDragEnd = [this, &target, control]
    {
        dragging = false;
        target.end(control);
    };
    onValueChange = [this, &target, control]
    {
        if (!dragging) target.begin(control);
        target.set(control, getValue());
        if (!dragging) target.end(control);
    };
}

void ValueSlider::show(double value)
{
    if (!dragging) setValue(value, juce::dontSendNotification);
}

void ValueSlider::paint(juce::Graphics& g)
{
    Slider::paint(g);
    const auto& theme = Look::of(*this);
    g.setColour(theme.dim);
    g.setFont(Look::font(Look::small));
    Look::write(g, caption, getLocalBounds().withHeight(18).withTrimmedRight(numberWidth),
                juce::Justification::centredLeft);
}

bool ValueSlider::keyPressed(const juce::KeyPress& key)
{
    if (key == juce::KeyPress::deleteKey || key == juce::KeyPress::backspaceKey)
    {
        setValue(shape.normal, juce::sendNotificationSync);
        return true;
    }
    const auto typed = key.getTextCharacter();
    const bool startsNumber = juce::CharacterFunctions::isDigit(typed) || typed == '-' || typed == '.';
    if (key == juce::KeyPress::returnKey || startsNumber)
    {
        showTextBox();
        // What was typed begins the number, in place of what stood there.
        for (auto* child : getChildren())
            if (auto* label = dynamic_cast<juce::Label*>(child); label != nullptr && startsNumber)
                if (auto* field = label->getCurrentTextEditor())
                {
                    field->setText(juce::String::charToString(typed), false);
                    field->moveCaretToEnd();
                }
        return true;
    }
    const auto code = key.getKeyCode();
    const bool up = code == juce::KeyPress::rightKey || code == juce::KeyPress::upKey;
    const bool down = code == juce::KeyPress::leftKey || code == juce::KeyPress::downKey;
    if (!up && !down) return false;
    const double step = shape.step * (key.getModifiers().isShiftDown() ? 10.0 : 1.0);
    setValue(getValue() + (up ? step : -step), juce::sendNotificationSync);
    return true;
}
} // namespace tarry
