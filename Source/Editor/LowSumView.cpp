#include "Editor/LowSumView.h"

#include "Editor/Look.h"
#include "Editor/Segments.h"
#include "Editor/Words.h"

#include <algorithm>
#include <tuple>

namespace tarry
{
namespace
{
constexpr double widest =
    9.0; // dB at either end of a bar; the most that two can gain is 3 dB over adding without phase
}

LowSumView::LowSumView()
{
    setTitle("Low sum");
    setTooltip("Low end (below 250 Hz) of spot and room summed at this lag, for each polarity, against the two added "
               "without phase. On low drums the polarity with more of it is the right one.");
}

void LowSumView::update(const EditorModel& model)
{
    const auto& blend = model.report.blend;
    const bool isKnown = model.report.lag.has_value();
    const auto polarity = model.values.applied().polarity;
    if (std::tie(known, normalDb, invertedDb, inUse) ==
        std::tuple(isKnown, blend.lowSumNormalDb, blend.lowSumInvertedDb, polarity))
        return;
    known = isKnown;
    normalDb = blend.lowSumNormalDb;
    invertedDb = blend.lowSumInvertedDb;
    inUse = polarity;
    setDescription(known ? "Low sum: normal " + signedDb(normalDb) + ", inverted " + signedDb(invertedDb)
                         : "Low sum: not measured yet");
    repaint();
}

void LowSumView::paint(juce::Graphics& g)
{
    const auto& theme = Look::of(*this);
    auto area = getLocalBounds();
    g.setColour(theme.dim);
    g.setFont(Look::font(Look::body));
    Look::write(g, "Low sum", area.removeFromTop(18), juce::Justification::centredLeft);
    paintRow(g, area.removeFromTop(28), Polarity::normal);
    paintRow(g, area.removeFromTop(28), Polarity::inverted);
}

void LowSumView::paintRow(juce::Graphics& g, juce::Rectangle<int> area, Polarity polarity) const
{
    const auto& theme = Look::of(*this);
    const double db = polarity == Polarity::normal ? normalDb : invertedDb;
    const bool chosen = polarity == inUse;
    auto words = area.removeFromTop(16);
    g.setColour(chosen ? theme.ink : theme.dim);
    g.setFont(Look::font(Look::small, chosen));
    Look::write(g, polarityName(polarity), words, juce::Justification::centredLeft);
    Look::write(g, known ? signedDb(db) : juce::String::charToString(0x2013), words, juce::Justification::centredRight);
    const auto track = area.removeFromTop(6).toFloat();
    const float zero = track.getCentreX();
    g.setColour(theme.line);
    g.fillRect(track.withSizeKeepingCentre(track.getWidth(), 1.0F));
    g.fillRect(zero - 0.5F, track.getY(), 1.0F, track.getHeight());
    if (!known) return;
    const float end = zero + 0.5F * track.getWidth() * static_cast<float>(juce::jlimit(-1.0, 1.0, db / widest));
    const auto bar = juce::Rectangle<float>::leftTopRightBottom(std::min(zero, end), track.getY(), std::max(zero, end),
                                                                track.getBottom());
    // Filled: in use. Outlined: the other.
    g.setColour(chosen ? theme.ink : theme.dim);
    if (chosen)
        g.fillRect(bar);
    else
        g.drawRect(bar, 1.0F);
}
} // namespace tarry
