#include "Editor/LagReadout.h"

#include "Editor/Look.h"
#include "Editor/Segments.h"

#include <cmath>

namespace tarry
{
namespace
{
constexpr double perPixel = 1e-5; // s by which a drag moves the lag: what an ear can just hear
constexpr int captionHeight = 15, digitsHeight = 43, rowHeight = 22, rowGap = 3;
} // namespace

LagReadout::LagReadout()
{
    describe(*this, *this, "Lag",
             "How much later the room hears the attack. Type a lag (35 ft, 10.7 m, 31.08 ms, 1492 smp), drag, or nudge "
             "with the arrows, with shift by ten steps. U changes the unit. Double-click or Delete: the measured lag "
             "again.");
    setMouseCursor(juce::MouseCursor::LeftRightResizeCursor);

    describe(unitButton, unitButton, "Unit", "The unit of the lag: ms, samples, metres or feet. Click for the next.");
    unitButton.onClick = [this] { setUnit(static_cast<LagUnit>((static_cast<int>(shownUnit) + 1) % lagUnitCount)); };
    describe(polarityButton, polarityButton, "Polarity", "The spot's polarity, by hand. Click to turn it over.");
    polarityButton.onClick = [this]
    {
        const bool isNormal = shown.values.applied().polarity == Polarity::normal;
        if (onPolarity) onPolarity(isNormal ? Polarity::inverted : Polarity::normal);
    };
    describe(earlier, earlier, "Earlier", "The spot earlier by one step, by hand. Hold to go on.");
    describe(later, later, "Later", "The spot later by one step, by hand. Hold to go on.");
    earlier.onClick = [this] { nudge(-1); };
    later.onClick = [this] { nudge(1); };
    for (auto* button : {&earlier, &later})
    {
        button->setRepeatSpeed(400, 60);
        addAndMakeVisible(button);
    }
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
    const Shown next{model.values, isTold(model.report) ? model.report.lag : std::nullopt};
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

/// By steps of the unit that is shown.
void LagReadout::nudge(int steps)
{
    if (!isEnabled()) return;
    if (shownUnit == LagUnit::samples)
    {
        if (onNudgeSamples) onNudgeSamples(steps);
    }
    else if (onNudge)
        onNudge(steps * stepOf(shownUnit, scale()));
}

void LagReadout::refresh()
{
    unitButton.setButtonText(unitName(shownUnit));
    const auto step = stepText(shownUnit);
    earlier.setButtonText(juce::String::charToString(0x2212) + step);
    later.setButtonText("+" + step);
    polarityButton.setButtonText("polarity " + polarityName(shown.values.applied().polarity));
    polarityButton.getProperties().set(Look::marked, shown.values.applied().polarity == Polarity::inverted);
    if (auto* handler = getAccessibilityHandler())
        handler->notifyAccessibilityEvent(juce::AccessibilityEvent::valueChanged);
    repaint();
}

/// What else there is to know of the lag, the most important first, as much as fits.
juce::String LagReadout::secondLine() const
{
    if (problem.isNotEmpty()) return problem;
    const auto& values = shown.values;
    if (!values.hasLag && !shown.measured) return {};
    const double lag = values.hasLag ? values.applied().lag : *shown.measured;
    juce::StringArray parts;
    if (values.hasLag && values.sidesDiffer())
    {
        const auto& right = values.held.side[1];
        parts.add("left; right " + lagText(right.lag, shownUnit, scale()) +
                  (right.polarity != values.applied().polarity ? ", " + polarityName(right.polarity) : juce::String()));
    }
    const auto& controls = values.controls;
    if (values.hasLag && (controls.wholeSamples || std::abs(values.asSet(0).lag - lag) > 1e-7))
        parts.add("heard as " +
                  lagText(values.asSet(0).lag, controls.wholeSamples ? LagUnit::samples : shownUnit, scale())
                      .replace(".00 smp", " smp"));
    if (values.hasLag && shown.measured && std::abs(*shown.measured - lag) > 0.5e-5)
        parts.add("measured " + lagText(*shown.measured, shownUnit, scale()));
    for (const auto unit : {LagUnit::metres, LagUnit::ms, LagUnit::samples, LagUnit::feet})
        if (unit != shownUnit && (unit != LagUnit::feet || shownUnit != LagUnit::metres))
            parts.add(lagText(lag, unit, scale()));
    const auto font = Look::font(Look::small);
    auto text = parts[0];
    for (int i = 1; i < parts.size(); ++i)
        if (const auto longer = text + ", " + parts[i]; font.getStringWidth(longer) < getWidth())
            text = longer;
        else
            break;
    return text;
}

juce::Rectangle<int> LagReadout::digitsArea() const
{
    return getLocalBounds().withTrimmedTop(captionHeight).withHeight(digitsHeight);
}

void LagReadout::paint(juce::Graphics& g)
{
    const auto& theme = Look::of(*this);
    const auto small = Look::font(Look::small);
    g.setColour(theme.dim);
    g.setFont(small);
    Look::write(g, caption, getLocalBounds().withHeight(captionHeight), juce::Justification::centredLeft);

    if (!isEntering())
    {
        // A lag that is measured but not applied is shown in lesser ink; the caption says so too.
        const auto lag = shown.values.hasLag ? std::optional(shown.values.applied().lag) : shown.measured;
        const auto font = Look::font(Look::figures, true);
        const auto unitFont = Look::font(Look::heading);
        const auto space = digitsArea().getWidth() - 5 - unitFont.getStringWidth(unitSign(shownUnit));
        auto text = juce::String::charToString(0x2013);
        // A hundredth of a sample is dropped before the unit is: five places of samples are a tenth of a second.
        for (int decimals = 2; lag && decimals >= 0; --decimals)
            if (text = lagNumber(*lag, shownUnit, scale(), decimals); font.getStringWidth(text) <= space) break;
        g.setColour(shown.values.hasLag && isEnabled() ? theme.ink : theme.dim);
        g.setFont(font);
        Look::write(g, text, digitsArea(), juce::Justification::centredLeft);
        g.setFont(unitFont);
        g.setColour(theme.dim);
        const auto beside = digitsArea().withTrimmedLeft(font.getStringWidth(text) + 5).withTrimmedTop(12);
        if (lag) Look::write(g, unitSign(shownUnit), beside, juce::Justification::centredLeft);
    }
    g.setColour(problem.isEmpty() ? theme.dim : theme.wrong);
    g.setFont(small);
    Look::write(g, secondLine(), juce::Rectangle<int>(0, captionHeight + digitsHeight, getWidth(), 16),
                juce::Justification::centredLeft);
    if (hasKeyboardFocus(false))
    {
        g.setColour(theme.focus);
        g.drawRoundedRectangle(digitsArea().toFloat().reduced(0.75F), Look::corner, 1.5F);
    }
}

void LagReadout::resized()
{
    auto rows = getLocalBounds().withTrimmedTop(height - 2 * rowHeight - rowGap);
    auto row = rows.removeFromTop(rowHeight);
    const int half = (getWidth() - rowGap) / 2;
    earlier.setBounds(row.removeFromLeft(half));
    later.setBounds(row.withTrimmedLeft(rowGap));
    row = rows.withTrimmedTop(rowGap);
    polarityButton.setBounds(row.removeFromLeft(getWidth() * 63 / 100));
    unitButton.setBounds(row.withTrimmedLeft(rowGap));
    if (entry) entry->setBounds(digitsArea());
}

void LagReadout::beginEntry(const juce::String& start)
{
    if (entry) return;
    entry = std::make_unique<juce::TextEditor>();
    entry->setTitle("Type a lag");
    entry->setFont(Look::font(Look::heading, true));
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

void LagReadout::endEntry(bool isWanted)
{
    if (!entry) return;
    // Released first, so that its loss of focus finds none; deleted later, because it is still on the stack that calls.
    auto* closing = entry.release();
    const auto typed = closing->getText();
    removeChildComponent(closing);
    juce::MessageManager::callAsync([owned = std::shared_ptr<juce::TextEditor>(closing)] {});
    if (isWanted && typed.trim().isNotEmpty()) accept(typed);
    repaint();
}

void LagReadout::accept(const juce::String& typed)
{
    const auto lag = readLag(typed, shownUnit, scale());
    const auto& values = shown.values;
    problem = !lag                        ? juce::String("Not a lag: type 31.08 or 35 ft")
              : *lag > values.longestLag  ? "longest is " + lagText(values.longestLag, shownUnit, scale())
              : *lag < values.shortestLag ? "earliest is " + lagText(values.shortestLag, shownUnit, scale())
                                          : juce::String();
    if (problem.isEmpty() && onLag) onLag(*lag, false);
}

bool LagReadout::keyPressed(const juce::KeyPress& key)
{
    if (!isEnabled()) return false;
    const bool up = key.isKeyCode(juce::KeyPress::rightKey) || key.isKeyCode(juce::KeyPress::upKey);
    const bool down = key.isKeyCode(juce::KeyPress::leftKey) || key.isKeyCode(juce::KeyPress::downKey);
    if (up || down)
    {
        nudge((up ? 1 : -1) * (key.getModifiers().isShiftDown() ? 10 : 1));
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
    // With shift ten times as far.
    if (!dragFrom || !event.mouseWasDraggedSinceMouseDown() || !onLag) return;
    onLag(*dragFrom + event.getDistanceFromDragStartX() * perPixel * (event.mods.isShiftDown() ? 10.0 : 1.0), dragging);
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
            const auto lag =
                owner.shown.values.hasLag ? std::optional(owner.shown.values.applied().lag) : owner.shown.measured;
            return owner.caption + (lag ? " " + lagText(*lag, owner.shownUnit, owner.scale()) : juce::String());
        }
        void setValueAsString(const juce::String& typed) override
        {
            if (owner.isEnabled()) owner.accept(typed);
        }
        LagReadout& owner;
    };
    return std::make_unique<juce::AccessibilityHandler>(
        *this, juce::AccessibilityRole::editableText, juce::AccessibilityActions{},
        juce::AccessibilityHandler::Interfaces{std::make_unique<Value>(*this)});
}
} // namespace tarry
