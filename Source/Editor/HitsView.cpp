#include "Editor/HitsView.h"

#include "Editor/Segments.h"
#include "Editor/Words.h"

#include <algorithm>
#include <cmath>
#include <tuple>

namespace tarry
{
namespace
{
constexpr int wordsHeight = 18, axisHeight = 16, orderWidth = 62;
constexpr float discInset = 6.0F;   // px: a disc at the edge of the plot is whole
constexpr double usualClear = 30.0; // dB at the top of the plot, unless a hit is clearer
constexpr double leastSpan = 0.001; // s from bottom to top, by time: less would make noise look like a drift

auto keyOf(const HitReport& hit)
{
    return std::tie(hit.time, hit.lag, hit.polarity, hit.clearDb, hit.weight, hit.used, hit.agreeing);
}

void drawCross(juce::Graphics& g, juce::Rectangle<float> box)
{
    g.drawLine({box.getTopLeft(), box.getBottomRight()}, 1.4F);
    g.drawLine({box.getBottomLeft(), box.getTopRight()}, 1.4F);
}
} // namespace

HitsView::HitsView()
{
    describe(*this, *this, "Hits",
             "Each hit at its own lag. Disc: agrees. Ring: apart. Cross: not used. A click, or left and right, shows a "
             "hit in the lanes; Escape the best one again.");
    describe(order, order, "Order of the hits", "By lag, higher where it is clearer; or by time, the lag upwards.");
    order.onClick = [this]
    {
        setByTime(!byTime);
        if (onOrder) onOrder(byTime);
    };
    addAndMakeVisible(order);
    order.setButtonText("by lag");
}

void HitsView::setByTime(bool wanted)
{
    if (wanted == byTime) return;
    byTime = wanted;
    order.setButtonText(byTime ? "by time" : "by lag");
    repaint();
}

void HitsView::update(const EditorModel& model, int chosenHit, const TimeAxis& lens)
{
    const auto& report = model.report;
    const auto& values = model.values;
    const bool sameHits = std::equal(hits.begin(), hits.end(), report.hits.begin(), report.hits.end(),
                                     [](const auto& a, const auto& b) { return keyOf(a) == keyOf(b); });
    const auto set = values.hasLag ? std::optional(values.asSet(0).lag) : std::nullopt;
    const auto rest = std::tie(lag, applied, reach, lookAhead, lensStart, lensLength, agreeing, found, chosen);
    const auto next = std::tie(report.lag, set, values.controls.reach, values.setup.lookAhead, lens.start, lens.length,
                               report.hitsAgreeing, report.hitsFound, chosenHit);
    if (sameHits && rest == next && evidence.values == report.evidence.values) return;
    lag = report.lag;
    applied = set;
    reach = values.controls.reach;
    lookAhead = values.setup.lookAhead;
    lensStart = lens.start;
    lensLength = lens.length;
    agreeing = report.hitsAgreeing;
    found = report.hitsFound;
    chosen = chosenHit;
    hits = report.hits;
    clearest = usualClear;
    for (const auto& hit : hits) clearest = std::max(clearest, hit.clearDb);
    evidence = report.evidence;
    if (under >= static_cast<int>(hits.size())) under = -1;
    setDescription(chosen >= 0 && chosen < static_cast<int>(hits.size()) ? hitText(chosen) : hitWords(model));
    repaint();
}

void HitsView::resized()
{
    order.setBounds(getLocalBounds().withHeight(wordsHeight).removeFromRight(orderWidth));
}

juce::Rectangle<float> HitsView::plot() const
{
    return getLocalBounds().withTrimmedTop(wordsHeight + 1).withTrimmedBottom(axisHeight).toFloat();
}

TimeAxis HitsView::axis() const
{
    double first = 0.0, last = 1.0;
    if (byTime)
    {
        if (!hits.empty())
        {
            first = hits.front().time;
            last = std::max(first + 1.0, hits.back().time);
        }
    }
    else
    {
        // From the earliest lag looked for to the longest, and to those of hits beyond.
        first = -lookAhead;
        last = reach;
        for (const auto& hit : hits)
        {
            first = std::min(first, hit.lag.value_or(first));
            last = std::max(last, hit.lag.value_or(last));
        }
    }
    const double margin = 0.03 * (last - first);
    const auto area = plot();
    return {first - margin, last - first + 2.0 * margin, area.getX(), std::max(1.0F, area.getWidth())};
}

HitsView::Range HitsView::lagRange() const
{
    // The hits that agree and what is applied fill the plot: so a drift shows. The others are kept at its edges.
    Range range{1e9, -1e9};
    const auto include = [&range](double at)
    {
        range.least = std::min(range.least, at);
        range.most = std::max(range.most, at);
    };
    for (const auto& hit : hits)
        if (hit.lag && hit.agreeing) include(*hit.lag);
    if (range.least > range.most)
        for (const auto& hit : hits)
            if (hit.lag) include(*hit.lag);
    if (lag) include(*lag);
    if (range.least > range.most) return {0.0, reach};
    const double middle = 0.5 * (range.least + range.most);
    const double half = 0.5 * std::max(leastSpan, 1.6 * (range.most - range.least));
    return {middle - half, middle + half};
}

std::optional<juce::Point<float>> HitsView::place(int index) const
{
    const auto& hit = hits[static_cast<std::size_t>(index)];
    if (!hit.lag) return {};
    const auto area = plot().reduced(0.0F, discInset);
    double height = hit.clearDb / clearest;
    if (byTime)
    {
        const auto range = lagRange();
        height = (*hit.lag - range.least) / (range.most - range.least);
    }
    return juce::Point<float>(axis().x(byTime ? hit.time : *hit.lag),
                              area.getBottom() - static_cast<float>(juce::jlimit(0.0, 1.0, height)) * area.getHeight());
}

void HitsView::paint(juce::Graphics& g)
{
    const auto& theme = Look::of(*this);
    const auto area = plot();
    const auto time = axis();
    g.setColour(theme.panel);
    g.fillRect(area);
    if (byTime)
        paintLagLine(g);
    else
        paintEvidence(g, time);
    paintHits(g);
    paintWords(g);

    g.setColour(theme.dim);
    const auto unit = juce::Rectangle<float>(area.getRight() - 40.0F, area.getBottom(), 40.0F, float(axisHeight));
    const TimeAxis::Scale scale{byTime ? 1.0 : 1e-3, -1e9};
    time.drawLabels(g, area.getBottom() + 1.0F, axisHeight - 1.0F, scale, unit);
    g.setFont(Look::font(Look::small));
    Look::write(g, byTime ? "s" : "lag, ms", unit, juce::Justification::centredRight);
    if (hasKeyboardFocus(false))
    {
        g.setColour(theme.focus);
        g.drawRoundedRectangle(area.reduced(0.75F), Look::corner, 1.5F);
    }
}

void HitsView::paintEvidence(juce::Graphics& g, const TimeAxis& time) const
{
    const auto& theme = Look::of(*this);
    const auto area = plot();
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
            hill.lineTo(x, area.getBottom() - juce::jlimit(0.0F, 1.0F, most) * (area.getHeight() - 4.0F));
        }
        hill.lineTo(area.getRight(), area.getBottom());
        hill.closeSubPath();
        g.setColour(theme.room.withAlpha(0.22F));
        g.fillPath(hill);
    }
    if (applied && time.contains(*applied))
    {
        g.setColour(theme.spot);
        g.fillRect(time.x(*applied) - 0.6F, area.getY(), 1.2F, area.getHeight());
    }
    // Which stretch the lanes show.
    const float left = juce::jlimit(area.getX(), area.getRight(), time.x(lensStart));
    const float right = juce::jlimit(area.getX(), area.getRight(), time.x(lensStart + lensLength));
    g.setColour(theme.dim);
    g.fillRect(juce::Rectangle<float>::leftTopRightBottom(left, area.getBottom() - 1.5F, right, area.getBottom()));
    for (const float end : {left, right - 1.5F}) // a bracket
        if (end > area.getX() && end < area.getRight() - 2.0F) g.fillRect(end, area.getBottom() - 7.0F, 1.5F, 7.0F);
}

void HitsView::paintLagLine(juce::Graphics& g) const
{
    const auto& theme = Look::of(*this);
    const auto area = plot();
    const auto range = lagRange();
    const auto inner = area.reduced(0.0F, discInset);
    const auto y = [&](double at) {
        return inner.getBottom() -
               static_cast<float>((at - range.least) / (range.most - range.least)) * inner.getHeight();
    };
    if (applied && *applied >= range.least && *applied <= range.most)
    {
        g.setColour(theme.spot);
        g.fillRect(area.getX(), y(*applied) - 0.6F, area.getWidth(), 1.2F);
    }
}

void HitsView::paintHits(juce::Graphics& g) const
{
    const auto& theme = Look::of(*this);
    for (int i = 0; i < static_cast<int>(hits.size()); ++i)
    {
        const auto& hit = hits[static_cast<std::size_t>(i)];
        const auto at = place(i);
        if (!at) continue;
        const float size = 6.0F + 3.0F * static_cast<float>(juce::jlimit(0.0, 1.0, hit.weight));
        const auto dot = juce::Rectangle<float>(size, size).withCentre(*at);
        g.setColour(hit.agreeing ? theme.ink : theme.dim);
        if (!hit.used)
            drawCross(g, dot.reduced(1.0F));
        else if (hit.agreeing)
        {
            g.fillEllipse(dot);
            g.setColour(theme.panel);
            g.drawEllipse(dot, 0.7F);
        }
        else
            g.drawEllipse(dot.reduced(0.8F), 1.5F);
        if (i == chosen || i == under)
        {
            g.setColour(i == chosen ? theme.focus : theme.dim);
            g.drawEllipse(dot.expanded(2.5F), 1.4F);
        }
    }
}

void HitsView::paintWords(juce::Graphics& g) const
{
    const auto& theme = Look::of(*this);
    auto words = getLocalBounds().withTrimmedLeft(6).withHeight(wordsHeight).withTrimmedRight(orderWidth + 8).toFloat();
    const auto font = Look::font(Look::small);
    g.setFont(font);
    const int told = under >= 0 ? under : chosen;
    if (told >= 0 && told < static_cast<int>(hits.size()))
    {
        g.setColour(theme.ink);
        Look::write(g, Look::shortened(hitText(told), font, static_cast<int>(words.getWidth())), words,
                    juce::Justification::centredLeft);
        return;
    }
    g.setColour(theme.dim);
    if (hits.empty())
    {
        Look::write(g, "the hits, each at its own lag", words, juce::Justification::centredLeft);
        return;
    }
    const auto count = [&](int number, const juce::String& what, auto draw)
    {
        const auto text = juce::String(number) + " " + what;
        const float width = font.getStringWidthFloat(text) + 2.0F;
        if (number <= 0 || words.getWidth() < width + 12.0F) return;
        draw(words.removeFromLeft(10.0F).withSizeKeepingCentre(7.0F, 7.0F));
        words.removeFromLeft(2.0F);
        Look::write(g, text, words.removeFromLeft(width), juce::Justification::centredLeft);
        words.removeFromLeft(10.0F);
    };
    const auto without =
        static_cast<int>(std::count_if(hits.begin(), hits.end(), [](const auto& h) { return !h.lag; }));
    const auto used =
        static_cast<int>(std::count_if(hits.begin(), hits.end(), [](const auto& h) { return h.used && h.lag; }));
    const auto agree =
        static_cast<int>(std::count_if(hits.begin(), hits.end(), [](const auto& h) { return h.agreeing; }));
    g.setColour(theme.ink);
    count(agree, "agree", [&](auto box) { g.fillEllipse(box); });
    g.setColour(theme.dim);
    count(used - agree, "apart", [&](auto box) { g.drawEllipse(box, 1.4F); });
    count(static_cast<int>(hits.size()) - used - without, "not used", [&](auto box) { drawCross(g, box); });
    count(without, "without an arrival", [](auto) {});
}

juce::String HitsView::hitText(int index) const
{
    const auto& hit = hits[static_cast<std::size_t>(index)];
    juce::String text = plainNumber(hit.time, 1) + " s: ";
    if (!hit.lag) return text + "no arrival in the room";
    text << lagText(*hit.lag, LagUnit::ms, {}) << ", " << polarityName(hit.polarity) << ", clear by "
         << plainNumber(hit.clearDb, 0) << " dB, ";
    return text + (!hit.used ? "not used" : hit.agreeing ? "agrees" : "apart");
}

int HitsView::hitAt(juce::Point<float> where) const
{
    int nearest = -1;
    float least = 9.0F;
    for (int i = 0; i < static_cast<int>(hits.size()); ++i)
        if (const auto at = place(i))
            if (const float d = at->getDistanceFrom(where); d < least)
            {
                least = d;
                nearest = i;
            }
    return nearest;
}

void HitsView::mouseMove(const juce::MouseEvent& event)
{
    const int now = hitAt(event.position);
    if (now == under) return;
    under = now;
    repaint();
}

void HitsView::mouseExit(const juce::MouseEvent&)
{
    under = -1;
    repaint();
}

void HitsView::mouseDown(const juce::MouseEvent& event)
{
    if (onChoose) onChoose(hitAt(event.position));
}

bool HitsView::keyPressed(const juce::KeyPress& key)
{
    if (key == juce::KeyPress::escapeKey && chosen >= 0)
    {
        if (onChoose) onChoose(-1);
        return true;
    }
    const int step = key == juce::KeyPress::rightKey ? 1 : key == juce::KeyPress::leftKey ? -1 : 0;
    if (step == 0 || hits.empty()) return false;
    if (onChoose) onChoose(juce::jlimit(0, static_cast<int>(hits.size()) - 1, chosen + step));
    return true;
}
} // namespace tarry
