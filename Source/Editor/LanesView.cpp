#include "Editor/LanesView.h"

#include "Editor/Segments.h"

#include <algorithm>
#include <cmath>
#include <tuple>

namespace tarry
{
namespace
{
constexpr int axisHeight = 18, laneGap = 3, waitHeight = 18;
constexpr int distanceHeight = 17, leastForDistance = 320; // px: of the row, and of the view that has room for it
constexpr double before = 0.006, after = 0.040;            // s left and right of both attacks, where both are in view
constexpr double longest = 1.0;                            // s on view
} // namespace

LanesView::LanesView()
{
    describe(*this, *this, "Attack picture",
             "One hit: spot, room and the sum of both. What is heard is filled. Drag the spot to set the lag by hand "
             "(shift: finer), double-click it for the measured lag. The wheel and the keys + and - zoom; drag below, "
             "or shift and wheel, scrolls; 0 shows both attacks. Left and right: hit by hit.");
    setTooltip("Drag the spot: lag by hand. Wheel: zoom."); // all of that would cover the picture
    setMouseCursor(juce::MouseCursor::NormalCursor);
}

void LanesView::update(const EditorModel& model, int hit)
{
    const auto& values = model.values;
    const auto& report = model.report;
    Shown next;
    next.asSetIsHeard = values.controls.aligned;
    next.hasLag = values.hasLag;
    next.trialRuns = model.trial.running;
    next.held = values.applied();
    next.asSet = values.asSet(0);
    next.arrival = isTold(report) ? report.lag : std::nullopt;
    next.roomGain = values.controls.blendGain;
    next.input = report.input;
    next.hitsFound = report.hitsFound;
    next.temperature = values.setup.temperature;
    next.distance = shown.distance;
    next.hit = hit;
    if (hit >= 0 && hit < static_cast<int>(report.hits.size()))
    {
        const auto& chosen = report.hits[static_cast<std::size_t>(hit)];
        next.hitName = "hit at " + plainNumber(chosen.time, 1) + " s";
        if (chosen.waves != nullptr)
            next.arrival = chosen.lag;
        else
            next.hitName << ": its waveform is no longer kept; the best hit is shown";
    }
    auto newWaves = Waves::of(report, hit, 0, report.roomChannel);
    const bool sameWaves = std::tie(newWaves.rate, newWaves.start, newWaves.spot, newWaves.room) ==
                           std::tie(waves.rate, waves.start, waves.spot, waves.room);
    auto newFigures = values.hasLag ? sumFigures(report, 0, next.asSet, next.roomGain) : std::nullopt;
    const auto keyOf = [](const std::optional<BlendFigures>& f)
    {
        return f ? std::tuple(f->flamBefore, f->flamAfter, f->attackGainDb, f->lowSumNormalDb, f->lowSumInvertedDb)
                 : std::tuple(-1.0, 0.0, 0.0, 0.0, 0.0);
    };
    if (next == shown && sameWaves && keyOf(newFigures) == keyOf(sumNow)) return;
    const auto viewBefore = axis();
    const bool newSums = !sameWaves || next.asSet != shown.asSet || next.roomGain != shown.roomGain;
    shown = std::move(next);
    sumNow = std::move(newFigures);
    if (!sameWaves)
    {
        waves = std::move(newWaves);
        spotPeak = peakOf(waves.spot);
        roomPeak = peakOf(waves.room);
    }
    if (newSums) takeSums();
    const auto viewNow = axis();
    if (onView && (viewNow.start != viewBefore.start || viewNow.length != viewBefore.length)) onView();
    repaint();
}

void LanesView::takeSums()
{
    sumAsRecorded = waves.sum({}, shown.roomGain);
    sumAsSet = waves.sum(shown.asSet, shown.roomGain);
}

// ----------------------------------------------------------------------------------------------- what is on view

TimeAxis LanesView::fitting() const
{
    // By the measured arrival; where there is none, by the lag that is held, in coarse steps: the view must not move
    // while the spot is dragged.
    const double coarse = 0.020;
    const double other = shown.arrival.value_or(shown.hasLag ? coarse * std::ceil(shown.held.lag / coarse) : 0.030);
    TimeAxis axis;
    axis.start = std::min(0.0, other) - before;
    axis.length = std::max(0.0, other) + after - axis.start;
    return axis;
}

TimeAxis LanesView::axis() const
{
    auto axis = chosenView.value_or(fitting());
    axis.left = 0.0F;
    axis.width = static_cast<float>(std::max(1, getWidth()));
    return axis;
}

void LanesView::show(double start, double length)
{
    length = juce::jlimit(shortest, longest, length);
    const double first = waves.isEmpty() ? -0.2 : waves.start, last = waves.isEmpty() ? 0.4 : waves.end();
    // Something of what there is stays in view.
    start = juce::jlimit(first - 0.9 * length, std::max(first, last - 0.1 * length), start);
    chosenView = TimeAxis{start, length, 0.0F, 1.0F};
    if (onView) onView();
    repaint();
}

void LanesView::zoom(double factor, std::optional<double> around)
{
    const auto now = axis();
    const double at = around.value_or(now.start + 0.5 * now.length);
    const double length = juce::jlimit(shortest, longest, now.length * factor);
    show(at - (at - now.start) * length / now.length, length);
}

void LanesView::scroll(double seconds)
{
    const auto now = axis();
    show(now.start + seconds, now.length);
}

void LanesView::fit()
{
    chosenView.reset();
    if (onView) onView();
    repaint();
}

void LanesView::setLength(double seconds)
{
    if (seconds <= 0.0) return fit();
    // The room's attack a third in, as far as it is known.
    show(shown.arrival.value_or(0.0) - seconds / 3.0, seconds);
}

double LanesView::length() const
{
    return chosenView ? chosenView->length : 0.0;
}

juce::Rectangle<int> LanesView::lane(Lane which) const
{
    const int all = getHeight() - axisHeight - (hasDistance() ? distanceHeight : 0) - waitHeight - laneGap;
    const int each = all * 29 / 100;
    const int top = which == Lane::spot ? 0 : which == Lane::room ? each + waitHeight : 2 * each + waitHeight + laneGap;
    return {0, top, getWidth(), which == Lane::sum ? all - 2 * each : each};
}

juce::Rectangle<int> LanesView::waitRow() const
{
    return lane(Lane::spot).translated(0, lane(Lane::spot).getHeight()).withHeight(waitHeight);
}

bool LanesView::hasDistance() const
{
    return getHeight() >= leastForDistance;
}

void LanesView::setDistanceUnit(LagUnit unit)
{
    if (unit == shown.distance) return;
    shown.distance = unit;
    repaint();
}

// ------------------------------------------------------------------------------------------------ mouse and keys

bool LanesView::keyPressed(const juce::KeyPress& key)
{
    if (key == juce::KeyPress::leftKey || key == juce::KeyPress::rightKey)
    {
        if (onStep) onStep(key == juce::KeyPress::rightKey ? 1 : -1);
        return true;
    }
    if (isEnabled() && key == juce::KeyPress::deleteKey)
    {
        if (onMeasured) onMeasured();
        return true;
    }
    return false;
}

void LanesView::mouseDown(const juce::MouseEvent& event)
{
    lagAtGrab.reset();
    if (isOfSpot(event.getPosition()))
    {
        if (isEnabled()) lagAtGrab = shown.hasLag ? shown.held.lag : 0.0;
        return;
    }
    startAtGrab = axis().start;
}

void LanesView::mouseDrag(const juce::MouseEvent& event)
{
    if (!event.mouseWasDraggedSinceMouseDown()) return;
    const auto now = axis();
    const double moved = event.getDistanceFromDragStartX() * now.length / static_cast<double>(now.width);
    if (lagAtGrab && onLag)
    {
        if (!chosenView) chosenView = now; // the view stays as it is while the spot moves
        onLag(*lagAtGrab + moved * (event.mods.isShiftDown() ? 0.1 : 1.0), dragging);
        dragging = true;
    }
    else if (startAtGrab)
        show(*startAtGrab - moved, now.length);
}

void LanesView::mouseUp(const juce::MouseEvent&)
{
    lagAtGrab.reset();
    startAtGrab.reset();
    dragging = false;
}

void LanesView::mouseMove(const juce::MouseEvent& event)
{
    const bool onSpot = isOfSpot(event.getPosition());
    setMouseCursor(onSpot && isEnabled() ? juce::MouseCursor::LeftRightResizeCursor
                   : onSpot              ? juce::MouseCursor::NormalCursor
                                         : juce::MouseCursor::UpDownLeftRightResizeCursor);
}

void LanesView::mouseDoubleClick(const juce::MouseEvent& event)
{
    if (!isOfSpot(event.getPosition()))
        fit();
    else if (isEnabled() && onMeasured)
        onMeasured();
}

void LanesView::mouseWheelMove(const juce::MouseEvent& event, const juce::MouseWheelDetails& wheel)
{
    const auto now = axis();
    const bool sideways = event.mods.isShiftDown() || std::abs(wheel.deltaX) > std::abs(wheel.deltaY);
    const double turned =
        static_cast<double>(std::abs(wheel.deltaX) > std::abs(wheel.deltaY) ? wheel.deltaX : wheel.deltaY) *
        (wheel.isReversed ? -1.0 : 1.0);
    if (sideways)
        scroll(-turned * 0.5 * now.length);
    else
        zoom(std::pow(0.4, turned), now.seconds(event.position.x));
}

void LanesView::mouseMagnify(const juce::MouseEvent& event, float scale)
{
    if (scale > 0.0F) zoom(1.0 / static_cast<double>(scale), axis().seconds(event.position.x));
}

void LanesView::resized()
{
    if (onView) onView();
}
} // namespace tarry
