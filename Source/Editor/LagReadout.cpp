#include "Editor/LagReadout.h"

#include "Editor/Look.h"
#include "Editor/Segments.h"

#include <cmath>

namespace tarry
{
namespace
{
constexpr double fineStep = 1e-5; // s: 0.01 ms

/// The largest size at which `text` fits, from 44 pixels down.
juce::Font digitsFont(const juce::String& text, int width)
{
    for (float height = 46.0F; height > 20.0F; height -= 1.0F)
        if (const auto font = Look::font(height, true); font.getStringWidth(text) <= width) return font;
    return Look::font(20.0F, true);
}
} // namespace

LagReadout::LagReadout()
{
    describe(*this, *this, "Lag",
             "How much later the room hears the attack. Type a lag (35 ft, 10.7 m, 31.08 ms, 1492 samples), drag, "
             "or nudge with the arrows: 0.01 ms, with shift a sample. U changes the unit. Double-click or Delete: "
             "the measured lag again.");
    setMouseCursor(juce::MouseCursor::LeftRightResizeCursor);

    describe(unitButton, unitButton, "Unit", "The unit of the lag: ms, samples, metres or feet. Click for the next.");
    unitButton.onClick = [this] { setUnit(static_cast<LagUnit>((static_cast<int>(shownUnit) + 1) % lagUnitCount)); };
    describe(polarityButton, polarityButton, "Polarity", "The spot's polarity, by hand. Click to turn it over.");
    polarityButton.onClick = [this]
    {
        const bool isNormal = shown.values.applied().polarity == Polarity::normal;
        if (onPolarity) onPolarity(isNormal ? Polarity::inverted : Polarity::normal);
    };

    const auto minus = juce::String::charToString(0x2212);
    const auto nudger = [this](juce::TextButton& button, const juce::String& text, const juce::String& title)
    {
        button.setButtonText(text);
        button.setRepeatSpeed(400, 60);
        describe(button, button, title, title + ", by hand. Hold to go on.");
        addAndMakeVisible(button);
    };
    const auto fine = [this](double seconds)
    {
        return [this, seconds]
        {
            if (onNudge) onNudge(seconds);
        };
    };
    const auto whole = [this](int samples)
    {
        return [this, samples]
        {
            if (onNudgeSamples) onNudgeSamples(samples);
        };
    };
    nudger(sampleDown, minus + "1 smp", "Earlier by a sample");
    nudger(fineDown, minus + "0.01", "Earlier by 0.01 ms");
    nudger(fineUp, "+0.01", "Later by 0.01 ms");
    nudger(sampleUp, "+1 smp", "Later by a sample");
    sampleDown.onClick = whole(-1);
    fineDown.onClick = fine(-fineStep);
    fineUp.onClick = fine(fineStep);
    sampleUp.onClick = whole(1);
    addAndMakeVisible(unitButton);
    addAndMakeVisible(polarityButton);
    caption = waitWords({});
    refresh();
}

LagScale LagReadout::scale() const
{
    return {shown.values.sampleRate, shown.values.setup.temperature};
}

void LagReadout::update(const EditorModel& model)
{
    const Shown next{model.values, model.report.lag};
    if (next == shown) return;
    if (next.values.held != shown.values.held) problem.clear();
    shown = next;
    caption = waitWords(model);
    refresh();
}

void LagReadout::setUnit(LagUnit unit)
{
    if (unit == shownUnit) return;
    shownUnit = unit;
    refresh();
    if (onUnit) onUnit(unit);
}

void LagReadout::refresh()
{
    unitButton.setButtonText(unitName(shownUnit));
    polarityButton.setButtonText("polarity " + polarityName(shown.values.applied().polarity));
    polarityButton.setToggleState(shown.values.applied().polarity == Polarity::inverted, juce::dontSendNotification);
    if (auto* handler = getAccessibilityHandler())
        handler->notifyAccessibilityEvent(juce::AccessibilityEvent::valueChanged);
    repaint();
}

juce::String LagReadout::secondLine() const
{
    if (problem.isNotEmpty()) return problem;
    if (!shown.values.hasLag) return shown.measured ? "Apply: applies it and freezes" : "";
    const double lag = shown.values.applied().lag;
    if (shown.values.sidesDiffer()) return "left; right " + lagText(shown.values.held.side[1].lag, shownUnit, scale());
    if (shown.measured && std::abs(*shown.measured - lag) > 0.5 * fineStep)
        return "measured " + lagText(*shown.measured, shownUnit, scale());
    const auto other = shownUnit == LagUnit::metres || shownUnit == LagUnit::feet ? LagUnit::ms : LagUnit::metres;
    const auto next = shownUnit == LagUnit::samples ? LagUnit::ms : LagUnit::samples;
    return lagText(lag, other, scale()) + ", " + lagText(lag, next, scale());
}

juce::Rectangle<int> LagReadout::digitsArea() const
{
    return getLocalBounds().withTrimmedTop(16).withHeight(46);
}

void LagReadout::paint(juce::Graphics& g)
{
    const auto& theme = Look::of(*this);
    g.setColour(theme.dim);
    g.setFont(Look::font(Look::body));
    Look::write(g, caption, getLocalBounds().withHeight(16), juce::Justification::centredLeft);

    if (!isEntering())
    {
        // A lag that is measured but not taken is shown in lesser ink; the caption says so too.
        const auto lag = shown.values.hasLag ? std::optional(shown.values.applied().lag) : shown.measured;
        const auto text = lag ? lagNumber(*lag, shownUnit, scale()) : juce::String("0.00");
        const auto font = digitsFont(text, getWidth() - 4);
        g.setColour(shown.values.hasLag && isEnabled() ? theme.ink : theme.dim);
        g.setFont(font);
        Look::write(g, text, digitsArea(), juce::Justification::centredLeft);
        // The unit beside it where there is room; the button below names it always.
        const int used = font.getStringWidth(text) + 6;
        const auto unitFont = Look::font(16.0F);
        g.setFont(unitFont);
        g.setColour(theme.dim);
        const auto beside = digitsArea().withTrimmedLeft(used).withTrimmedTop(12);
        if (lag && unitFont.getStringWidth(unitName(shownUnit)) <= beside.getWidth())
            Look::write(g, unitName(shownUnit), beside, juce::Justification::centredLeft);
    }
    g.setColour(problem.isEmpty() ? theme.dim : theme.caution);
    g.setFont(Look::font(Look::small));
    Look::write(g, secondLine(), juce::Rectangle<int>(0, 62, getWidth(), 15), juce::Justification::centredLeft);
    if (hasKeyboardFocus(false))
    {
        g.setColour(theme.focus);
        g.drawRoundedRectangle(digitsArea().toFloat().reduced(0.75F), Look::corner, 1.5F);
    }
}

void LagReadout::resized()
{
    auto row = juce::Rectangle<int>(0, 81, getWidth(), 22);
    unitButton.setBounds(row.removeFromLeft(64));
    polarityButton.setBounds(row.withTrimmedLeft(3));
    row = juce::Rectangle<int>(0, 106, getWidth(), 20);
    const int w = (getWidth() - 9) / 4;
    for (auto* button : {&sampleDown, &fineDown, &fineUp, &sampleUp})
    {
        button->setBounds(row.removeFromLeft(w));
        row.removeFromLeft(3);
    }
    if (entry) entry->setBounds(digitsArea());
}

void LagReadout::beginEntry(const juce::String& start)
{
    if (entry) return;
    entry = std::make_unique<juce::TextEditor>();
    entry->setTitle("Type a lag");
    entry->setFont(Look::font(30.0F, true));
    entry->setJustification(juce::Justification::centredLeft);
    entry->setText(start, false);
    entry->onReturnKey = [this]
    {
        endEntry(true);
        grabKeyboardFocus();
    };
    entry->onEscapeKey = [this]
    {
        endEntry(false);
        grabKeyboardFocus();
    };
    entry->onFocusLost = [this] { endEntry(true); };
    addAndMakeVisible(*entry);
    resized();
    entry->grabKeyboardFocus();
    entry->moveCaretToEnd(false);
}

void LagReadout::endEntry(bool take)
{
    if (!entry) return;
    // Released first, so that its loss of focus finds none; deleted later, because it is still on the stack that calls.
    auto* closing = entry.release();
    const auto typed = closing->getText();
    removeChildComponent(closing);
    juce::MessageManager::callAsync([owned = std::shared_ptr<juce::TextEditor>(closing)] {});
    if (take && typed.trim().isNotEmpty())
    {
        if (const auto lag = readLag(typed, shownUnit, scale()))
        {
            problem.clear();
            if (onLag) onLag(*lag, false);
        }
        else
            problem = "Not a lag: type 31.08 or 35 ft";
    }
    repaint();
}

bool LagReadout::keyPressed(const juce::KeyPress& key)
{
    if (!isEnabled()) return false;
    const auto code = key.getKeyCode();
    const bool later = code == juce::KeyPress::rightKey || code == juce::KeyPress::upKey;
    const bool earlier = code == juce::KeyPress::leftKey || code == juce::KeyPress::downKey;
    if (later || earlier)
    {
        const int sign = later ? 1 : -1;
        if (key.getModifiers().isShiftDown())
        {
            if (onNudgeSamples) onNudgeSamples(sign);
        }
        else if (onNudge)
            onNudge(sign * fineStep);
        return true;
    }
    if (key == juce::KeyPress::deleteKey || key == juce::KeyPress::backspaceKey)
    {
        if (onMeasured) onMeasured();
        return true;
    }
    if (key == juce::KeyPress::returnKey || key == juce::KeyPress::F2Key)
    {
        beginEntry({});
        return true;
    }
    const auto character = key.getTextCharacter();
    if (character == 'u' || character == 'U')
    {
        setUnit(static_cast<LagUnit>((static_cast<int>(shownUnit) + 1) % lagUnitCount));
        return true;
    }
    if (juce::CharacterFunctions::isDigit(character) || character == '-' || character == '.')
    {
        beginEntry(juce::String::charToString(character));
        return true;
    }
    return false;
}

void LagReadout::mouseDown(const juce::MouseEvent& event)
{
    if (!isEnabled()) return;
    grabKeyboardFocus();
    if (digitsArea().contains(event.getPosition()) && shown.values.hasLag) dragFrom = shown.values.applied().lag;
}

void LagReadout::mouseDrag(const juce::MouseEvent& event)
{
    // 0.01 ms a pixel: a hand can set what an ear can just hear. With shift ten times as much.
    if (!dragFrom || !event.mouseWasDraggedSinceMouseDown() || !onLag) return;
    onLag(*dragFrom + event.getDistanceFromDragStartX() * fineStep * (event.mods.isShiftDown() ? 10.0 : 1.0), dragging);
    dragging = true;
}

void LagReadout::mouseUp(const juce::MouseEvent&)
{
    dragFrom.reset();
    dragging = false;
}

void LagReadout::mouseDoubleClick(const juce::MouseEvent& event)
{
    if (isEnabled() && digitsArea().contains(event.getPosition()) && onMeasured) onMeasured();
}

std::unique_ptr<juce::AccessibilityHandler> LagReadout::createAccessibilityHandler()
{
    struct Value : juce::AccessibilityTextValueInterface
    {
        explicit Value(LagReadout& readout) : owner(readout) {}
        bool isReadOnly() const override { return false; }
        juce::String getCurrentValueAsString() const override
        {
            return owner.caption + " " + lagText(owner.shown.values.applied().lag, owner.shownUnit, owner.scale());
        }
        void setValueAsString(const juce::String& typed) override
        {
            if (const auto lag = readLag(typed, owner.shownUnit, owner.scale()))
                if (owner.onLag && owner.isEnabled()) owner.onLag(*lag, false);
        }
        LagReadout& owner;
    };
    return std::make_unique<juce::AccessibilityHandler>(
        *this, juce::AccessibilityRole::editableText, juce::AccessibilityActions{},
        juce::AccessibilityHandler::Interfaces{std::make_unique<Value>(*this)});
}
} // namespace tarry
