#include "Editor/HitsView.h"

#include "Editor/AttackView.h"
#include "Editor/Look.h"
#include "Editor/Segments.h"
#include "Editor/Words.h"

#include <algorithm>
#include <cmath>
#include <tuple>

namespace tarry
{
namespace
{
constexpr int axisHeight = 15;
constexpr double usualClear = 30.0; // dB at the top of the plot, unless a hit is clearer

auto keyOf(const HitReport& hit)
{
    return std::tie(hit.time, hit.lag, hit.polarity, hit.clearDb, hit.weight, hit.used, hit.agreeing);
}
} // namespace

HitsView::HitsView()
{
    describe(*this, *this, "Hits",
             "Each hit at its own lag, higher where it is clearer. Disc: agrees. Ring: does not. Cross: not used. "
             "Arrow keys step through them.");
}

void HitsView::update(const EditorModel& model, const TimeAxis& lens)
{
    const auto& report = model.report;
    const auto& values = model.values;
    const bool sameHits = std::equal(hits.begin(), hits.end(), report.hits.begin(), report.hits.end(),
                                     [](const auto& a, const auto& b) { return keyOf(a) == keyOf(b); });
    const auto rest = std::tie(lag, secondCluster, reach, lookAhead, lensStart, lensLength, agreeing);
    const auto next = std::tie(report.lag, report.secondCluster, values.controls.reach, values.setup.lookAhead,
                               lens.start, lens.length, report.hitsAgreeing);
    if (sameHits && rest == next && evidence.values == report.evidence.values) return;
    lag = report.lag;
    secondCluster = report.secondCluster;
    reach = values.controls.reach;
    lookAhead = values.setup.lookAhead;
    lensStart = lens.start;
    lensLength = lens.length;
    agreeing = report.hitsAgreeing;
    hits = report.hits;
    clearest = usualClear;
    for (const auto& hit : hits) clearest = std::max(clearest, hit.clearDb);
    evidence = report.evidence;
    if (picked >= static_cast<int>(hits.size())) picked = -1;
    setDescription(hitWords(model));
    repaint();
}

juce::Rectangle<float> HitsView::plot() const
{
    return getLocalBounds().withTrimmedLeft(AttackView::gutter).withTrimmedBottom(axisHeight).toFloat();
}

TimeAxis HitsView::axis() const
{
    // From the earliest lag looked for to the longest, and to those of hits beyond; with room for a dot at either end.
    double first = -lookAhead, last = reach;
    for (const auto& hit : hits)
    {
        first = std::min(first, hit.lag.value_or(first));
        last = std::max(last, hit.lag.value_or(last));
    }
    const double margin = 0.03 * (last - first);
    const auto area = plot();
    return {first - margin, last - first + 2.0 * margin, area.getX(), area.getWidth()};
}

juce::Point<float> HitsView::place(const HitReport& hit) const
{
    const auto area = plot().reduced(0.0F, 7.0F);
    const double height = juce::jlimit(0.0, 1.0, hit.clearDb / clearest);
    return {axis().x(hit.lag.value_or(0.0)), area.getBottom() - static_cast<float>(height) * area.getHeight()};
}

void HitsView::paint(juce::Graphics& g)
{
    const auto& theme = Look::of(*this);
    const auto area = plot();
    const auto time = axis();
    g.setColour(theme.panel);
    g.fillRect(area);

    if (!evidence.values.empty())
    {
        juce::Path hill;
        hill.startNewSubPath(area.getX(), area.getBottom());
        for (float x = area.getX(); x <= area.getRight(); x += 0.5F)
        {
            // The largest value in the column: a peak narrower than a pixel must not vanish.
            const double first = (time.seconds(x) - evidence.start) / evidence.step;
            const double last = (time.seconds(x + 0.5F) - evidence.start) / evidence.step;
            float most = 0.0F;
            for (auto i = static_cast<long>(std::floor(first)); i <= static_cast<long>(std::floor(last)); ++i)
                if (i >= 0 && i < static_cast<long>(evidence.values.size()))
                    most = std::max(most, evidence.values[static_cast<std::size_t>(i)]);
            hill.lineTo(x, area.getBottom() - juce::jlimit(0.0F, 1.0F, most) * (area.getHeight() - 6.0F));
        }
        hill.lineTo(area.getRight(), area.getBottom());
        hill.closeSubPath();
        g.setColour(theme.room.withAlpha(0.20F));
        g.fillPath(hill);
    }

    int without = 0;
    for (int i = 0; i < static_cast<int>(hits.size()); ++i)
    {
        const auto& hit = hits[static_cast<std::size_t>(i)];
        if (!hit.lag)
        {
            ++without;
            continue;
        }
        const auto p = place(hit);
        const float size = 6.0F + 3.0F * static_cast<float>(juce::jlimit(0.0, 1.0, hit.weight));
        const auto dot = juce::Rectangle<float>(size, size).withCentre(p);
        g.setColour(hit.agreeing ? theme.ink : theme.dim);
        if (!hit.used)
        {
            g.drawLine({dot.reduced(1.0F).getTopLeft(), dot.reduced(1.0F).getBottomRight()}, 1.3F);
            g.drawLine({dot.reduced(1.0F).getBottomLeft(), dot.reduced(1.0F).getTopRight()}, 1.3F);
        }
        else if (hit.agreeing)
        {
            g.fillEllipse(dot);
            g.setColour(theme.panel);
            g.drawEllipse(dot, 0.7F);
        }
        else
            g.drawEllipse(dot.reduced(0.8F), 1.5F);
        if (i == picked)
        {
            g.setColour(theme.focus);
            g.drawEllipse(dot.expanded(3.0F), 1.2F);
        }
    }

    if (picked >= 0)
    {
        g.setColour(theme.ink);
        g.setFont(Look::font(Look::small));
        Look::write(g, hitText(picked), area.withHeight(15.0F).withTrimmedLeft(6.0F), juce::Justification::centredLeft);
    }

    // The lens: which stretch the attack picture shows.
    const float lensLeft = juce::jlimit(area.getX(), area.getRight(), time.x(lensStart));
    const float lensRight = juce::jlimit(area.getX(), area.getRight(), time.x(lensStart + lensLength));
    g.setColour(theme.dim);
    g.fillRect(juce::Rectangle<float>::leftTopRightBottom(lensLeft, area.getBottom() - 1.0F, lensRight,
                                                          area.getBottom() + 1.0F));
    time.drawLabels(g, area.getBottom() + 2.0F, 13.0F, Look::font(Look::small));

    auto words = getLocalBounds().withWidth(AttackView::gutter).withTrimmedLeft(8).toFloat();
    g.setFont(Look::font(Look::small));
    const auto count = [&](const juce::String& text, auto draw)
    {
        auto line = words.removeFromTop(15.0F);
        draw(line.removeFromLeft(12.0F).withSizeKeepingCentre(7.0F, 7.0F).translated(-2.0F, 0.0F));
        Look::write(g, text, line, juce::Justification::centredLeft);
    };
    const auto used = std::count_if(hits.begin(), hits.end(), [](const auto& h) { return h.used && h.lag; });
    const auto unused = static_cast<int>(hits.size()) - static_cast<int>(used) - without;
    const int apart = static_cast<int>(used) - agreeing;
    g.setColour(theme.ink);
    if (!hits.empty()) count(juce::String(agreeing) + " agree", [&](auto box) { g.fillEllipse(box); });
    g.setColour(theme.dim);
    if (apart > 0) count(juce::String(apart) + " apart", [&](auto box) { g.drawEllipse(box, 1.4F); });
    if (unused > 0)
        count(juce::String(unused) + " not used",
              [&](auto box)
              {
                  g.drawLine({box.getTopLeft(), box.getBottomRight()}, 1.3F);
                  g.drawLine({box.getBottomLeft(), box.getTopRight()}, 1.3F);
              });
    if (without > 0) count(juce::String(without) + " no start", [](auto) {});
    if (hits.empty())
        Look::write(g, "the hits, by their lags", area.reduced(8.0F, 0.0F), juce::Justification::centredLeft);
    Look::write(g, "lag, ms", getLocalBounds().withWidth(AttackView::gutter - 6).removeFromBottom(13),
                juce::Justification::centredRight);
    if (hasKeyboardFocus(false))
    {
        g.setColour(theme.focus);
        g.drawRoundedRectangle(getLocalBounds().toFloat().reduced(0.75F), Look::corner, 1.5F);
    }
}

juce::String HitsView::hitText(int index) const
{
    const auto& hit = hits[static_cast<std::size_t>(index)];
    juce::String text = juce::String(hit.time, 1) + " s: ";
    if (!hit.lag) return text + "no start found in the room";
    text << lagText(*hit.lag, LagUnit::ms, {}) << ", " << polarityName(hit.polarity) << ", clear by "
         << juce::String(juce::roundToInt(hit.clearDb)) << " dB, ";
    return text + (!hit.used ? "not used" : hit.agreeing ? "agrees" : "apart");
}

void HitsView::pick(int index)
{
    if (index == picked) return;
    picked = index;
    if (index >= 0) setDescription(hitText(index));
    repaint();
}

void HitsView::mouseMove(const juce::MouseEvent& event)
{
    int nearest = -1;
    float least = 8.0F;
    for (int i = 0; i < static_cast<int>(hits.size()); ++i)
        if (hits[static_cast<std::size_t>(i)].lag)
            if (const float d = place(hits[static_cast<std::size_t>(i)]).getDistanceFrom(event.position); d < least)
            {
                least = d;
                nearest = i;
            }
    pick(nearest);
}

void HitsView::mouseExit(const juce::MouseEvent&)
{
    pick(-1);
}

bool HitsView::keyPressed(const juce::KeyPress& key)
{
    const int step = key == juce::KeyPress::rightKey ? 1 : key == juce::KeyPress::leftKey ? -1 : 0;
    if (step == 0 || hits.empty()) return false;
    pick(juce::jlimit(0, static_cast<int>(hits.size()) - 1, picked + step));
    return true;
}

void HitsView::focusLost(FocusChangeType)
{
    picked = -1;
    repaint();
}
} // namespace tarry
