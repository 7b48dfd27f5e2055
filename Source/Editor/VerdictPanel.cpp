#include "Editor/VerdictPanel.h"

#include "Editor/Look.h"
#include "Editor/Segments.h"
#include "Editor/Words.h"

#include <cmath>

namespace tarry
{
namespace
{
constexpr int inset = 8, headHeight = 26, reasonsTop = 31, moreHeight = 18, moreWidth = 60;
} // namespace

VerdictPanel::VerdictPanel()
{
    setTitle("Verdict");
    describe(more, more, "All reasons", "Shows every reason and all the figures.");
    more.onClick = [this]
    {
        if (onMore) onMore();
    };
    addChildComponent(more);
}

void VerdictPanel::update(const EditorModel& model)
{
    const auto& report = model.report;
    auto next = model.values.phase == Phase::frozen ? Sign::held : Sign::waiting;
    if (report.input != InputState::good)
        next = Sign::fault;
    else if (report.hitsFound > 0)
        next = report.verdict == Verdict::align   ? Sign::align
               : report.verdict == Verdict::leave ? Sign::leave
                                                  : Sign::unsure;
    const auto words = verdictWords(model), sure = confidenceWords(model);
    const auto why = reasonWords(model);
    const bool ofAnother = report.input == InputState::good && isAnotherLag(model);
    if (next == sign && words == verdict && sure == confidence && why == reasons && ofAnother == ofAnotherLag) return;
    sign = next;
    verdict = words;
    confidence = sure;
    reasons = why;
    ofAnotherLag = ofAnother;
    setDescription(verdict + ", " + confidence + ". " + reasons.joinIntoString(" "));
    setTooltip(reasons.joinIntoString(" "));
    layOut();
    repaint();
}

/// Whole reasons, as many as fit; where not all do, a button leads to the rest.
void VerdictPanel::layOut()
{
    reasonWidth = getWidth() - 2 * inset;
    if (reasonWidth <= 0) return;
    const auto fits = [&](const juce::String& text, bool aboveButton)
    {
        const int room = getHeight() - reasonsTop - 3 - (aboveButton ? moreHeight + 2 : 0);
        return Look::paragraph(text, reasonWidth, {}).getHeight() <= static_cast<float>(room);
    };
    const int all = reasons.size();
    int count = all;
    for (; count > 0; --count)
    {
        shownReasons = reasons.joinIntoString(" ", 0, count);
        if (fits(shownReasons, count < all)) break;
    }
    leftOut = all - count;
    if (count == 0)
    {
        // Not even the first fits: its beginning in whole words, beside the button.
        shownReasons = reasons[0];
        reasonWidth -= moreWidth + 4;
        auto words = juce::StringArray::fromTokens(reasons[0], " ", "");
        while (words.size() > 1 && !fits(shownReasons, false))
        {
            words.remove(words.size() - 1);
            shownReasons = words.joinIntoString(" ") + juce::String::charToString(0x2026);
        }
    }
    more.setVisible(leftOut > 0);
    more.setButtonText(leftOut < all ? juce::String(leftOut) + " more" : juce::String("all of it"));
}

void VerdictPanel::resized()
{
    more.setBounds(getLocalBounds().reduced(inset, 5).removeFromBottom(moreHeight).removeFromRight(moreWidth));
    layOut();
}

juce::Colour VerdictPanel::colour() const
{
    const auto& theme = Look::of(*this);
    if (sign == Sign::fault) return theme.wrong;
    if (ofAnotherLag) return theme.dim; // it does not speak of what is heard
    switch (sign)
    {
    case Sign::align:
        return theme.good;
    case Sign::leave:
        return theme.leave;
    case Sign::unsure:
        return theme.caution;
    default:
        return theme.dim;
    }
}

/// A shape for each verdict: told apart without any colour.
void VerdictPanel::drawSign(juce::Graphics& g, juce::Rectangle<float> box) const
{
    const auto c = box.getCentre();
    g.setColour(colour());
    switch (sign)
    {
    case Sign::align: // a tick
    {
        juce::Path tick;
        tick.startNewSubPath(c.x - 7.0F, c.y);
        tick.lineTo(c.x - 2.0F, c.y + 6.0F);
        tick.lineTo(c.x + 8.0F, c.y - 7.0F);
        g.strokePath(tick, juce::PathStrokeType(2.6F));
        return;
    }
    case Sign::leave: // spot and room each where it was
        Look::drawSpotMark(g, c.x - 5.0F, c.y + 5.0F, 10.0F, colour());
        Look::drawRoomMark(g, c.x + 6.0F, c.y - 5.0F, 9.0F, colour());
        return;
    case Sign::unsure: // a ring that asks
        g.drawEllipse(box.withSizeKeepingCentre(17.0F, 17.0F), 1.8F);
        g.setFont(Look::font(Look::small, true));
        Look::write(g, "?", box, juce::Justification::centred);
        return;
    case Sign::fault: // a triangle that warns
    {
        juce::Path triangle;
        triangle.addTriangle(c.x - 9.0F, c.y + 7.0F, c.x + 9.0F, c.y + 7.0F, c.x, c.y - 9.0F);
        g.strokePath(triangle, juce::PathStrokeType(1.8F));
        g.setFont(Look::font(Look::small, true));
        Look::write(g, "!", box.translated(0.0F, 1.5F), juce::Justification::centred);
        return;
    }
    case Sign::held: // as the phase's own sign
        g.fillRect(box.withSizeKeepingCentre(9.0F, 9.0F));
        return;
    case Sign::waiting:
        for (const float dx : {-6.0F, 0.0F, 6.0F})
            g.fillEllipse(juce::Rectangle<float>(3.0F, 3.0F).withCentre({c.x + dx, c.y}));
        return;
    }
}

void VerdictPanel::paint(juce::Graphics& g)
{
    const auto& theme = Look::of(*this);
    const auto block = getLocalBounds().toFloat();
    g.setColour(theme.panel.interpolatedWith(colour(), 0.06F));
    g.fillRoundedRectangle(block, Look::corner);
    g.setColour(colour());
    g.drawRoundedRectangle(block.reduced(0.75F), Look::corner, 1.5F);

    auto head = getLocalBounds().reduced(inset, 0).withTrimmedTop(5).withHeight(headHeight);
    drawSign(g, head.removeFromLeft(22).toFloat());
    head.removeFromLeft(5);
    const auto font = Look::font(Look::heading, true);
    g.setColour(colour());
    g.setFont(font);
    Look::write(g, verdict, head.removeFromLeft(font.getStringWidth(verdict) + 4), juce::Justification::centredLeft);
    g.setColour(theme.ink);
    g.setFont(Look::font(Look::small));
    Look::write(g, confidence, head, juce::Justification::centredRight);
    Look::paragraph(shownReasons, reasonWidth, theme.ink)
        .draw(g, getLocalBounds().reduced(inset, 0).withTrimmedTop(reasonsTop).toFloat());
}
} // namespace tarry
