#include "Editor/VerdictPanel.h"

#include "Editor/Look.h"
#include "Editor/Segments.h"
#include "Editor/Words.h"

#include <cmath>

namespace tarry
{
namespace
{
constexpr int reasonsTop = 36, moreHeight = 18;

/// Keeps a number and its unit on one line.
juce::String kept(const juce::String& text)
{
    const auto space = juce::String::charToString(0xa0);
    return text.replace(" ms", space + "ms").replace(" dB", space + "dB").replace(" %", space + "%");
}

juce::TextLayout lines(const juce::String& text, float height, int width, juce::Colour colour)
{
    juce::AttributedString string;
    string.append(kept(text), Look::font(height), colour);
    string.setWordWrap(juce::AttributedString::byWord);
    juce::TextLayout layout;
    layout.createLayout(string, static_cast<float>(width));
    return layout;
}
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
    const bool bar = report.input == InputState::good && report.lag.has_value();
    if (next == sign && words == verdict && sure == confidence && why == reasons && bar == showsBar &&
        std::abs(report.confidence - share) < 0.005)
        return;
    sign = next;
    verdict = words;
    confidence = sure;
    reasons = why;
    share = juce::jlimit(0.0, 1.0, report.confidence);
    showsBar = bar;
    setDescription(verdict + ", " + confidence + ". " + reasons.joinIntoString(" "));
    setTooltip(reasons.joinIntoString(" "));
    layOut();
    repaint();
}

/// Whole reasons, as many as fit; where not all do, a button leads to the rest.
void VerdictPanel::layOut()
{
    if (getWidth() <= 0) return;
    const int all = reasons.size();
    if (all == 0)
    {
        shownReasons.clear();
        leftOut = 0;
        more.setVisible(false);
        return;
    }
    for (const float height : {Look::body, Look::small})
        for (int count = all; count > 0; --count)
        {
            const int room = getHeight() - reasonsTop - (count < all ? moreHeight + 2 : 0);
            shownReasons = reasons.joinIntoString(" ", 0, count);
            reasonHeight = height;
            leftOut = all - count;
            if (lines(shownReasons, height, getWidth(), {}).getHeight() <= static_cast<float>(room))
            {
                if (leftOut > 0 && height > Look::small) break; // smaller, all of it may fit
                more.setVisible(leftOut > 0);
                more.setButtonText(juce::String(leftOut) + " more");
                return;
            }
        }
    // Not even the first fits: its beginning in whole words, and the button.
    juce::StringArray words;
    words.addTokens(reasons[0], " ", "");
    leftOut = all;
    reasonHeight = Look::small;
    do
    {
        words.remove(words.size() - 1);
        shownReasons = words.joinIntoString(" ") + juce::String::charToString(0x2026);
    } while (words.size() > 1 && lines(shownReasons, reasonHeight, getWidth(), {}).getHeight() >
                                     static_cast<float>(getHeight() - reasonsTop - moreHeight - 2));
    more.setVisible(true);
    more.setButtonText("all of it");
}

void VerdictPanel::resized()
{
    more.setBounds(getLocalBounds().removeFromBottom(moreHeight).removeFromLeft(66));
    layOut();
}

void VerdictPanel::drawSign(juce::Graphics& g, juce::Rectangle<float> box) const
{
    const auto& theme = Look::of(*this);
    const auto c = box.getCentre();
    switch (sign)
    {
    case Sign::align: // spot over room
        Look::drawSpotMark(g, c.x, c.y - 1.0F, 10.0F, theme.spot);
        Look::drawRoomMark(g, c.x, c.y + 1.0F, 9.0F, theme.room);
        return;
    case Sign::leave: // spot and room each where it was
        Look::drawSpotMark(g, c.x - 5.0F, c.y - 1.0F, 10.0F, theme.spot);
        Look::drawRoomMark(g, c.x + 5.0F, c.y + 1.0F, 9.0F, theme.room);
        return;
    case Sign::unsure:
    case Sign::fault:
        g.setColour(sign == Sign::fault ? theme.caution : theme.ink);
        g.drawEllipse(box.reduced(2.0F), 1.6F);
        g.setFont(Look::font(14.0F, true));
        Look::write(g, sign == Sign::fault ? "!" : "?", box, juce::Justification::centred);
        return;
    case Sign::held: // as the phase's own sign
        g.setColour(theme.ink);
        g.fillRect(box.withSizeKeepingCentre(9.0F, 9.0F));
        return;
    case Sign::waiting:
        g.setColour(theme.dim);
        for (const float dx : {-6.0F, 0.0F, 6.0F})
            g.fillEllipse(juce::Rectangle<float>(3.0F, 3.0F).withCentre({c.x + dx, c.y}));
        return;
    }
}

void VerdictPanel::paint(juce::Graphics& g)
{
    const auto& theme = Look::of(*this);
    auto head = getLocalBounds().withHeight(24);
    drawSign(g, head.removeFromLeft(22).toFloat());
    g.setColour(sign == Sign::fault ? theme.caution : theme.ink);
    const auto font = Look::font(Look::heading, true);
    g.setFont(font);
    const int width = font.getStringWidth(verdict) + 4;
    Look::write(g, verdict, head.withTrimmedLeft(4).withWidth(width), juce::Justification::centredLeft);
    g.setColour(theme.dim);
    g.setFont(Look::font(Look::body));
    Look::write(g, confidence, head.withTrimmedLeft(4 + width), juce::Justification::centredRight);

    // The bar says the same as the words beside it.
    const auto bar = juce::Rectangle<float>(0.0F, 27.0F, static_cast<float>(getWidth()), 3.0F);
    g.setColour(theme.line);
    g.fillRect(bar);
    g.setColour(theme.ink);
    if (showsBar) g.fillRect(bar.withWidth(bar.getWidth() * static_cast<float>(share)));

    lines(shownReasons, reasonHeight, getWidth(), theme.ink)
        .draw(g, getLocalBounds().withTrimmedTop(reasonsTop).toFloat());
}
} // namespace tarry
