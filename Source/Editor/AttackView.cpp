#include "Editor/AttackView.h"

#include "Editor/Look.h"
#include "Editor/Segments.h"
#include "Editor/Words.h"

#include <algorithm>
#include <cmath>

namespace tarry
{
namespace
{
constexpr int axisHeight = 16, rowGap = 4;
constexpr float stripHeight = 15.0F; // above each wave: the marks and the words between them
} // namespace

AttackView::AttackView()
{
    describe(*this, *this, "Attack picture",
             "The best hit, as recorded and aligned: spot filled, room outlined, energy onsets marked. Click a row to "
             "hear it (keys: up, down). Drag the spot in the aligned row to set the lag by hand; double-click for the "
             "measured lag.");
}

void AttackView::update(const EditorModel& model)
{
    const auto& values = model.values;
    const Shown next{values.controls.aligned, values.hasLag,        model.trial.running,
                     values.applied(),        values.controls.lean, model.report.lag};
    const auto differs = [](const Curve& a, const Curve& b)
    { return std::tie(a.start, a.step, a.values) != std::tie(b.start, b.step, b.values); };
    const bool newCurves = differs(spot, model.report.spotAttack) || differs(room, model.report.roomAttack);
    if (next == shown && !newCurves) return;
    shown = next;
    if (newCurves)
    {
        spot = model.report.spotAttack;
        room = model.report.roomAttack;
    }
    repaint();
}

void AttackView::setZoom(double seconds)
{
    if (seconds == zoomLength) return;
    zoomLength = seconds;
    repaint();
}

/// Where the room's attack lies: as measured, or as set where nothing was.
double AttackView::roomAt() const
{
    return shown.measured.value_or(shown.hasLag ? shown.applied.lag : 0.0);
}

TimeAxis AttackView::axis() const
{
    TimeAxis axis;
    axis.length = zoomLength;
    axis.left = static_cast<float>(gutter);
    axis.width = static_cast<float>(getWidth() - gutter);
    const double lag = roomAt();
    if (zoomLength > 0.05 && std::abs(lag) < zoomLength - 0.010)
        axis.start = std::min(0.0, lag) - 0.005; // both attacks in view
    else
        axis.start = lag - 0.25 * zoomLength; // the room's attack a quarter in
    return axis;
}

juce::Rectangle<int> AttackView::row(bool aligned) const
{
    const int height = (getHeight() - axisHeight - rowGap) / 2;
    return {0, aligned ? height + rowGap : 0, getWidth(), height};
}

void AttackView::paint(juce::Graphics& g)
{
    const auto& theme = Look::of(*this);
    paintRow(g, false);
    paintRow(g, true);

    const auto bottom = static_cast<float>(getHeight() - axisHeight);
    g.setColour(theme.dim);
    axis().drawLabels(g, bottom + 2.0F, 13.0F, Look::font(Look::small));
    g.setFont(Look::font(Look::small));
    Look::drawSpotMark(g, 8.0F, bottom + 12.0F, 7.0F, theme.spot);
    g.setColour(theme.spot);
    Look::write(g, "spot", juce::Rectangle<float>(14.0F, bottom + 2.0F, 28.0F, 13.0F),
                juce::Justification::centredLeft);
    Look::drawRoomMark(g, 49.0F, bottom + 5.0F, 7.0F, theme.room);
    g.setColour(theme.room);
    Look::write(g, "room", juce::Rectangle<float>(55.0F, bottom + 2.0F, 34.0F, 13.0F),
                juce::Justification::centredLeft);
    if (hasKeyboardFocus(false))
    {
        g.setColour(theme.focus);
        g.drawRoundedRectangle(getLocalBounds().toFloat().reduced(0.75F), Look::corner, 1.5F);
    }
}

void AttackView::paintRow(juce::Graphics& g, bool aligned) const
{
    const auto& theme = Look::of(*this);
    const bool heard = aligned == shown.aligned && !shown.trialRuns;
    const auto area = row(aligned);
    const auto picture = area.withTrimmedLeft(gutter).toFloat();
    g.setColour(theme.panel);
    g.fillRect(picture);

    // The row that is heard says so in words and with a bar at its edge.
    auto words = area.withWidth(gutter).withTrimmedLeft(8).toFloat();
    if (heard)
    {
        g.setColour(theme.ink);
        g.fillRect(area.withWidth(3));
    }
    g.setColour(heard ? theme.ink : theme.dim);
    g.setFont(Look::font(Look::small, heard));
    Look::write(g, aligned ? "aligned" : "as recorded", words.removeFromTop(16.0F), juce::Justification::centredLeft);
    g.setFont(Look::font(Look::small));
    if (heard) Look::write(g, "heard", words.removeFromTop(14.0F), juce::Justification::centredLeft);

    const double spotAt = aligned && shown.hasLag ? shown.applied.lag + shown.lean : 0.0;
    if (spot.values.empty() || room.values.empty())
    {
        if (shown.hasLag) // held, but nothing has been heard since
            paintMarks(g, picture, spotAt, roomAt(), aligned);
        else
        {
            g.setColour(theme.dim);
            Look::write(g,
                        aligned ? "the same, once the spot has waited for the room"
                                : "the attack, as the two microphones hear it",
                        picture.reduced(8.0F, 0.0F), juce::Justification::centredLeft);
        }
        return;
    }
    const bool turned = aligned && shown.applied.polarity == Polarity::inverted;
    const auto wave = picture.withTrimmedTop(stripHeight);
    g.setColour(theme.line);
    g.fillRect(wave.withSizeKeepingCentre(wave.getWidth(), 1.0F));
    paintWave(g, wave.reduced(0.0F, 2.0F), room, 0.0, false, false);
    paintWave(g, wave.reduced(0.0F, 2.0F), spot, spotAt, turned, true);
    paintMarks(g, picture, spotAt, roomAt(), aligned);
}

void AttackView::paintWave(juce::Graphics& g, juce::Rectangle<float> area, const Curve& curve, double shift,
                           bool turned, bool filled) const
{
    const auto& theme = Look::of(*this);
    const auto time = axis();
    const auto count = static_cast<long>(curve.values.size());
    const auto indexOf = [&](double t) { return std::lround(std::ceil((t - shift - curve.start) / curve.step)); };

    // Scaled to what is on view: the shapes are compared, not the levels, which differ by twenty dB and more.
    float largest = 1e-9F;
    for (long i = std::max(0L, indexOf(time.start)); i < std::min(count, indexOf(time.start + time.length)); ++i)
        largest = std::max(largest, std::abs(curve.values[static_cast<std::size_t>(i)]));
    const float scale = (turned ? -0.5F : 0.5F) * area.getHeight() / largest;
    const float middle = area.getCentreY();

    // One column a half pixel: least and largest value in it, so that no peak is lost at any zoom.
    juce::Path upper, lower;
    constexpr float columnWidth = 0.5F;
    std::vector<juce::Point<float>> tops, bottoms;
    for (float x = area.getX(); x < area.getRight(); x += columnWidth)
    {
        const double t = time.seconds(x), next = time.seconds(x + columnWidth);
        const long first = indexOf(t), last = std::max(first + 1, indexOf(next));
        if (first < 0 || last > count) continue;
        float least = curve.values[static_cast<std::size_t>(first)], most = least;
        for (long i = first; i < last; ++i)
        {
            least = std::min(least, curve.values[static_cast<std::size_t>(i)]);
            most = std::max(most, curve.values[static_cast<std::size_t>(i)]);
        }
        const float a = middle - least * scale, b = middle - most * scale;
        tops.emplace_back(x, std::min(a, b));
        bottoms.emplace_back(x, std::max(a, b));
    }
    if (tops.empty()) return;
    juce::Path path;
    if (filled)
    {
        path.startNewSubPath(tops.front().x, middle);
        for (const auto& p : tops) path.lineTo(p.x, std::min(p.y, middle));
        for (auto it = bottoms.rbegin(); it != bottoms.rend(); ++it) path.lineTo(it->x, std::max(it->y, middle));
        path.closeSubPath();
        g.setColour(theme.spot.withAlpha(0.72F));
        g.fillPath(path);
        return;
    }
    path.startNewSubPath(tops.front());
    for (std::size_t i = 0; i < tops.size(); ++i)
    {
        path.lineTo(tops[i]);
        if (bottoms[i].y - tops[i].y > 0.25F) path.lineTo(bottoms[i]);
    }
    g.setColour(theme.room);
    g.strokePath(path, juce::PathStrokeType(0.8F));
}

void AttackView::paintMarks(juce::Graphics& g, juce::Rectangle<float> area, double spotAt, double roomTime,
                            bool aligned) const
{
    const auto& theme = Look::of(*this);
    const auto time = axis();
    const float top = area.getY() + 11.0F;
    const auto line = [&](double t, juce::Colour colour, bool dashed)
    {
        const juce::Line<float> whole(time.x(t), top, time.x(t), area.getBottom());
        constexpr float dashes[] = {3.0F, 2.0F};
        g.setColour(colour);
        if (dashed)
            g.drawDashedLine(whole, dashes, 2, 1.2F);
        else
            g.drawLine(whole, 1.2F);
    };
    const bool spotIn = time.contains(spotAt), roomIn = time.contains(roomTime);
    if (roomIn) line(roomTime, theme.room, true);
    if (spotIn) line(spotAt, theme.spot, false);
    if (spotIn) Look::drawSpotMark(g, time.x(spotAt), top, 8.0F, theme.spot);
    if (roomIn) Look::drawRoomMark(g, time.x(roomTime), area.getBottom() - 8.0F, 8.0F, theme.room);

    const double gap = roomTime - spotAt;
    juce::String words;
    if (aligned && !shown.hasLag)
        words = "not moved yet";
    else if (aligned)
        words = std::abs(gap) < 5e-5 ? "together" : leanWords(-gap);
    else
        words = gap < 0.0 ? "spot " + shortMs(-gap) + " late" : "room " + shortMs(gap) + " later";
    const auto font = Look::font(Look::small);
    const float width = font.getStringWidthFloat(words) + 4.0F;
    g.setFont(font);
    g.setColour(theme.ink);
    const float left = time.x(std::min(spotAt, roomTime)), right = time.x(std::max(spotAt, roomTime));
    const float y = area.getY() + 7.0F;
    if (right - left > width + 24.0F && spotIn && roomIn)
    {
        // The wait itself: a line from the spot to the room with its length on it.
        const float middle = (left + right) * 0.5F;
        Look::write(g, words, juce::Rectangle<float>(middle - width * 0.5F, area.getY(), width, 14.0F),
                    juce::Justification::centred);
        g.setColour(theme.dim);
        g.drawLine(left + 6.0F, y, middle - width * 0.5F - 3.0F, y, 1.0F);
        g.drawArrow({middle + width * 0.5F + 3.0F, y, right - 1.0F, y}, 1.0F, 5.0F, 6.0F);
        return;
    }
    // No room between the marks: after the later one, or before the earlier one where that is too near the edge.
    const float first = spotIn ? left : time.x(roomTime), last = spotIn ? right : time.x(roomTime);
    const bool after = last + 8.0F + width <= area.getRight() - 14.0F;
    const float at = std::max(after ? last + 8.0F : first - 8.0F - width, area.getX() + 2.0F);
    Look::write(g, words, juce::Rectangle<float>(at, area.getY(), width, 14.0F), juce::Justification::centredLeft);
    if (!spotIn) // the spot is out of view: an arrow to where it is
    {
        const bool before = spotAt < time.start;
        const float x = before ? area.getX() + 2.0F : area.getRight() - 2.0F;
        g.setColour(theme.spot);
        g.drawArrow({before ? x + 11.0F : x - 11.0F, y, x, y}, 1.5F, 6.0F, 6.0F);
    }
}

bool AttackView::overSpot(juce::Point<int> p) const
{
    const double spotAt = shown.applied.lag + shown.lean;
    return shown.hasLag && row(true).contains(p) && std::abs(axis().x(spotAt) - static_cast<float>(p.x)) < 7.0F;
}

bool AttackView::keyPressed(const juce::KeyPress& key)
{
    const bool up = key == juce::KeyPress::upKey, down = key == juce::KeyPress::downKey;
    if (!(up || down) || !isEnabled()) return false;
    if (onHear) onHear(down);
    return true;
}

void AttackView::mouseDown(const juce::MouseEvent& event)
{
    if (isEnabled() && overSpot(event.getPosition())) dragFrom = shown.applied.lag;
}

void AttackView::mouseDrag(const juce::MouseEvent& event)
{
    if (!dragFrom || !event.mouseWasDraggedSinceMouseDown() || !onLag) return;
    const double perPixel = axis().length / static_cast<double>(axis().width);
    onLag(*dragFrom + event.getDistanceFromDragStartX() * perPixel, dragging);
    dragging = true;
}

void AttackView::mouseUp(const juce::MouseEvent& event)
{
    const bool wasClick = isEnabled() && !dragFrom && !event.mouseWasDraggedSinceMouseDown();
    dragFrom.reset();
    dragging = false;
    if (wasClick && onHear)
        for (const bool aligned : {false, true})
            if (row(aligned).contains(event.getPosition())) onHear(aligned);
}

void AttackView::mouseMove(const juce::MouseEvent& event)
{
    setMouseCursor(!isEnabled()                    ? juce::MouseCursor::NormalCursor
                   : overSpot(event.getPosition()) ? juce::MouseCursor::LeftRightResizeCursor
                                                   : juce::MouseCursor::PointingHandCursor);
}

void AttackView::mouseDoubleClick(const juce::MouseEvent& event)
{
    if (isEnabled() && overSpot(event.getPosition()) && onMeasured) onMeasured();
}
} // namespace tarry
