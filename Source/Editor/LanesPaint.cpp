// How LanesView draws what it shows.
#include "Core/Ground/Acoustics.h"
#include "Editor/LanesView.h"
#include "Editor/WavePath.h"

#include <algorithm>
#include <cmath>

namespace tarry
{
namespace
{
constexpr float ghost = 0.55F; // opacity of what is not heard
constexpr int nameHeight = 16, figuresHeight = 17;

/// The wait's own ground on the rule.
juce::Colour waitGround(const Theme& theme)
{
    return theme.control.interpolatedWith(theme.spot, 0.28F);
}
} // namespace

/// Words have lines of their own above and below: none lies on a wave.
juce::Rectangle<float> LanesView::waveArea(Lane which) const
{
    const auto words = lane(which).withTrimmedTop(nameHeight);
    return words.withTrimmedBottom(which == Lane::sum ? figuresHeight : 0).toFloat().reduced(0.0F, 2.0F);
}

void LanesView::paint(juce::Graphics& g)
{
    const auto& theme = Look::of(*this);
    const auto time = axis();
    for (const auto which : {Lane::spot, Lane::room, Lane::sum})
    {
        const auto area = lane(which);
        g.setColour(theme.panel);
        g.fillRect(area);
        g.setColour(theme.line.withAlpha(0.35F));
        const auto middle = waveArea(which).getCentreY();
        time.drawTicks(g, static_cast<float>(area.getY()), static_cast<float>(area.getBottom()));
        g.fillRect(static_cast<float>(area.getX()), middle - 0.5F, static_cast<float>(area.getWidth()), 1.0F);
    }
    paintLines(g); // first: none goes through words
    paintSpot(g);
    paintRoom(g);
    paintSum(g);
    paintWait(g);
    paintMarks(g);
    paintAxis(g);
    if (hasKeyboardFocus(false))
    {
        g.setColour(theme.focus);
        g.drawRoundedRectangle(getLocalBounds().toFloat().reduced(0.75F), Look::corner, 1.5F);
    }
}

/// The time, and below it the way that sound goes in it.
void LanesView::paintAxis(juce::Graphics& g) const
{
    const auto& theme = Look::of(*this);
    const auto time = axis();
    auto area = getLocalBounds().withTop(lane(Lane::sum).getBottom()).toFloat();
    const auto row = [&](float height, const TimeAxis::Scale& scale, const juce::String& unit, float rule)
    {
        const auto below = area.removeFromTop(height);
        g.setColour(theme.line);
        time.drawRule(g, below.getY(), rule, scale);
        g.setColour(theme.dim);
        time.drawLabels(g, below.getY() + 3.0F, height - 3.0F, scale, below.withLeft(below.getRight() - 22.0F));
        g.setFont(Look::font(Look::small));
        Look::write(g, unit, below.withTop(below.getY() + 3.0F).withLeft(below.getRight() - 20.0F),
                    juce::Justification::centredRight);
    };
    row(18.0F, {1e-3, -1e9}, "ms", 4.0F);
    if (!hasDistance()) return;
    const bool inFeet = shown.distance == LagUnit::feet;
    const double perUnit = travelTime(inFeet ? metresPerFoot : 1.0, shown.temperature);
    row(17.0F, {perUnit, 0.0}, inFeet ? "ft" : "m", 3.0F);
}

/// Words, with nothing seen behind them.
void LanesView::writeOver(juce::Graphics& g, const juce::String& text, juce::Rectangle<float> area,
                          juce::Justification where, juce::Colour colour, bool bold) const
{
    if (text.isEmpty()) return;
    const auto font = Look::font(Look::small, bold);
    const auto kept = Look::shortened(text, font, static_cast<int>(area.getWidth()));
    const auto place = where.appliedToRectangle(
        juce::Rectangle<float>(font.getStringWidthFloat(kept) + 4.0F, static_cast<float>(Look::line)), area);
    g.setColour(Look::of(*this).panel);
    g.fillRect(place.expanded(2.0F, 0.0F));
    g.setColour(colour);
    g.setFont(font);
    Look::write(g, kept, place, juce::Justification::centred);
}

void LanesView::nameLane(juce::Graphics& g, Lane which, const juce::String& name, juce::Colour colour,
                         const juce::String& more) const
{
    auto words = lane(which).withHeight(nameHeight).reduced(6, 0).toFloat();
    const auto font = Look::font(Look::small, true);
    writeOver(g, name, words.removeFromLeft(font.getStringWidthFloat(name) + 6.0F), juce::Justification::centredLeft,
              colour, true);
    if (which == Lane::sum) words.removeFromRight(150.0F); // the legend
    writeOver(g, more, words, juce::Justification::centredLeft, Look::of(*this).dim);
}

void LanesView::paintSpot(juce::Graphics& g) const
{
    const auto& theme = Look::of(*this);
    const auto area = waveArea(Lane::spot);
    const auto time = axis();
    if (!waves.isEmpty())
    {
        auto turned = waves.spot;
        if (shown.hasLag && shown.asSet.polarity == Polarity::inverted)
            for (auto& sample : turned) sample = -sample;
        const WavePath recorded(waves.spot, waves.start, waves.rate, time, area, spotPeak);
        const WavePath set(turned, waves.start + shown.asSet.lag, waves.rate, time, area, spotPeak);
        if (!shown.hasLag)
            recorded.fill(g, theme.spot.withAlpha(0.85F));
        else
        {
            (setIsHeard() ? recorded : set).outline(g, theme.spot.withAlpha(ghost), 0.8F);
            (setIsHeard() ? set : recorded).fill(g, theme.spot.withAlpha(0.85F));
        }
    }
    else if (!shown.hasLag && shown.input == InputState::good)
        writeOver(g,
                  shown.hitsFound == 0 ? "Play a few hits: the attack is drawn here, as both microphones hear it."
                                       : "No hit was found in both: there is none to draw.",
                  area.reduced(6.0F, 0.0F), juce::Justification::centredLeft, theme.dim);
    nameLane(g, Lane::spot, "spot", theme.spot, shown.hitName);
}

void LanesView::paintRoom(juce::Graphics& g) const
{
    const auto& theme = Look::of(*this);
    const auto area = waveArea(Lane::room);
    if (!waves.isEmpty())
        WavePath(waves.room, waves.start, waves.rate, axis(), area, roomPeak).outline(g, theme.room, 1.0F);
    juce::String more;
    if (shown.input == InputState::noRoom)
        more = "nothing arrives on the side-chain";
    else if (shown.input == InputState::sameSignal)
        more = "the spot's samples";
    else if (shown.input == InputState::ownSignal)
        more = "the spot's own signal, later";
    else if (shown.arrival)
        more = *shown.arrival < 0.0 ? lagText(-*shown.arrival, LagUnit::ms, {}) + " before the spot"
                                    : lagText(*shown.arrival, LagUnit::ms, {}) + " after the spot";
    else if (!waves.isEmpty())
        more = "no arrival found";
    else if (shown.hasLag)
        more = "not measured";
    nameLane(g, Lane::room, "room", theme.room, more);
}

void LanesView::paintSum(juce::Graphics& g) const
{
    const auto& theme = Look::of(*this);
    auto whole = lane(Lane::sum);
    const auto area = waveArea(Lane::sum);
    if (!waves.isEmpty())
    {
        const float unit = spotPeak + static_cast<float>(shown.roomGain) * roomPeak; // stays while the spot is dragged
        const WavePath recorded(sumAsRecorded, waves.start, waves.rate, axis(), area, unit);
        const WavePath set(sumAsSet, waves.start, waves.rate, axis(), area, unit);
        (setIsHeard() ? set : recorded).fill(g, theme.ink.withAlpha(0.85F));
        if (shown.hasLag) (setIsHeard() ? recorded : set).dashed(g, theme.dim, 0.9F);
    }
    // Of what is applied against what was measured: nothing where nothing was.
    nameLane(g, Lane::sum, "the sum", theme.ink,
             shown.arrival && shown.hasLag ? gapWords(shown.asSet.lag - *shown.arrival) : juce::String());

    auto legend = whole.withHeight(nameHeight).removeFromRight(150).withTrimmedRight(6).toFloat();
    const auto entry = [&](const juce::String& text, bool heard)
    {
        const auto font = Look::font(Look::small, heard);
        auto sign = legend.removeFromRight(16.0F).withSizeKeepingCentre(12.0F, 9.0F);
        g.setColour(heard ? theme.ink : theme.dim);
        if (heard)
            g.fillRect(sign);
        else
        {
            constexpr float dashes[] = {3.0F, 2.0F};
            g.drawDashedLine({sign.getX(), sign.getCentreY(), sign.getRight(), sign.getCentreY()}, dashes, 2, 1.2F);
        }
        g.setFont(font);
        Look::write(g, text, legend.removeFromRight(font.getStringWidthFloat(text) + 4.0F),
                    juce::Justification::centred);
        legend.removeFromRight(8.0F);
    };
    if (!shown.trialRuns && shown.hasLag)
    {
        entry("as set", setIsHeard());
        entry("as recorded", !setIsHeard());
    }

    if (!sumNow || waves.isEmpty()) return;
    const auto width = static_cast<float>(whole.getWidth()) - 12.0F;
    const auto font = Look::font(Look::small);
    juce::String text;
    for (const auto& longer : sumWords(*sumNow, shown.asSet.polarity)) // as much as there is room for
        if (const auto tried = text + (text.isEmpty() ? "" : "   ") + longer; font.getStringWidthFloat(tried) < width)
            text = tried;
    writeOver(g, text, whole.removeFromBottom(figuresHeight).reduced(6, 0).toFloat(), juce::Justification::centredRight,
              theme.ink);
}

/// Where the attacks lie: upright through all lanes.
void LanesView::paintLines(juce::Graphics& g) const
{
    const auto& theme = Look::of(*this);
    const auto time = axis();
    const auto top = static_cast<float>(lane(Lane::spot).getY() + nameHeight);
    const auto upright = [&](double t, Lane last, juce::Colour colour, bool dashed)
    {
        if (!time.contains(t)) return;
        constexpr float dashes[] = {2.0F, 2.0F};
        const juce::Line<float> line(time.x(t), top, time.x(t), static_cast<float>(lane(last).getBottom()));
        g.setColour(colour);
        if (dashed)
            g.drawDashedLine(line, dashes, 2, 1.2F);
        else
            g.drawLine(line, 1.2F);
    };
    if (waves.isEmpty() && !shown.hasLag) return;
    if (shown.arrival) upright(*shown.arrival, Lane::sum, theme.room, true);
    upright(0.0, Lane::sum, theme.spot.withAlpha(0.8F), true);
    if (shown.hasLag) upright(shown.asSet.lag, Lane::spot, theme.spot, false);
}

void LanesView::paintMarks(juce::Graphics& g) const
{
    const auto& theme = Look::of(*this);
    const auto time = axis();
    if (shown.arrival && time.contains(*shown.arrival) && !(waves.isEmpty() && !shown.hasLag))
        Look::drawRoomMark(g, time.x(*shown.arrival), static_cast<float>(lane(Lane::room).getBottom()) - 9.0F, 8.0F,
                           theme.room);
    if (shown.hasLag && time.contains(shown.asSet.lag))
        Look::drawSpotMark(g, time.x(shown.asSet.lag), static_cast<float>(lane(Lane::spot).getY()) + nameHeight + 4.0F,
                           10.0F, theme.spot);
}

/// The rule between spot and room, and on it the wait: from where the spot was to where it is set.
void LanesView::paintWait(juce::Graphics& g) const
{
    const auto& theme = Look::of(*this);
    const auto time = axis();
    const auto row = waitRow().toFloat();
    g.setColour(theme.control);
    g.fillRect(row);
    const double lag = shown.asSet.lag;
    const bool waits = shown.hasLag && std::abs(lag) >= 5e-6;
    const float left = juce::jlimit(row.getX(), row.getRight(), time.x(std::min(0.0, lag)));
    const float right = juce::jlimit(row.getX(), row.getRight(), time.x(std::max(0.0, lag)));
    const auto bar = row.withLeft(left).withRight(right);
    if (waits)
    {
        g.setColour(waitGround(theme));
        g.fillRect(bar);
    }
    g.setColour(theme.line.interpolatedWith(theme.dim, 0.35F));
    for (const float edge : {row.getY(), row.getBottom()})
        time.drawRule(g, edge, edge == row.getY() ? 5.0F : -5.0F, {});
    if (shown.arrival && time.contains(*shown.arrival) && !(waves.isEmpty() && !shown.hasLag))
    {
        g.setColour(theme.room);
        g.fillRect(time.x(*shown.arrival) - 0.6F, row.getY(), 1.2F, row.getHeight());
    }
    if (!waits) return;
    g.setColour(theme.spot);
    for (const double end : {0.0, lag})
        if (time.contains(end)) g.fillRect(time.x(end) - 0.75F, row.getY(), 1.5F, row.getHeight());
    if (const auto tip = time.x(lag); time.contains(lag) && bar.getWidth() > 12.0F)
    {
        const float back = lag > 0.0 ? -7.0F : 7.0F;
        juce::Path head;
        head.addTriangle(tip, row.getCentreY(), tip + back, row.getCentreY() - 4.0F, tip + back,
                         row.getCentreY() + 4.0F);
        g.fillPath(head);
    }

    const auto text = (lag > 0.0 ? "waits " : "earlier by ") + lagText(std::abs(lag), LagUnit::ms, {});
    const auto font = Look::font(Look::small, true);
    const float width = font.getStringWidthFloat(text) + 8.0F;
    auto place = juce::Rectangle<float>(right + 4.0F, row.getY(), width, row.getHeight());
    const bool isInside = bar.getWidth() > width + 24.0F;
    if (isInside)
        place.setX(0.5F * (left + right - width));
    else if (place.getRight() > row.getRight())
        place.setX(std::max(row.getX(), left - 4.0F - width));
    g.setColour(isInside ? waitGround(theme) : theme.control);
    g.fillRect(place);
    g.setColour(theme.ink);
    g.setFont(font);
    Look::write(g, text, place, juce::Justification::centred);
}
} // namespace tarry
