#include "Editor/WhyPage.h"

#include "Editor/Look.h"
#include "Editor/Waves.h"
#include "Editor/Words.h"

#include <cmath>

namespace tarry
{
namespace
{
constexpr int rowHeight = 17, nameWidth = 128;

std::vector<std::pair<juce::String, juce::String>> figuresOf(const EditorModel& model)
{
    const auto& report = model.report;
    const LagScale scale{model.values.sampleRate, model.values.setup.temperature};
    std::vector<std::pair<juce::String, juce::String>> rows;
    if (!isTold(report)) return rows; // no figures where there is nothing to be said by them
    const auto ms = [](double seconds) { return lagText(seconds, LagUnit::ms, {}); };

    rows.emplace_back("Measured lag",
                      ms(*report.lag) + ", " + polarityName(report.polarity.value_or(Polarity::normal)));
    rows.emplace_back("Confidence", percent(report.confidence) + " that it is right to within 0.5 ms");
    rows.emplace_back("As a distance",
                      lagText(*report.lag, LagUnit::metres, scale) + ", " + lagText(*report.lag, LagUnit::feet, scale));
    if (!model.values.tapeWords.empty())
        rows.emplace_back("By the tape", juce::String::fromUTF8(model.values.tapeWords.c_str()));
    rows.emplace_back("Hits", juce::String(report.hitsFound) + " found, " + juce::String(report.hitsUsed) + " used, " +
                                  juce::String(report.hitsAgreeing) + " agree");
    rows.emplace_back("Spread of the hits", ms(report.spread));
    rows.emplace_back("Clear by", plainNumber(report.clearDb, 1) + " dB");
    if (report.runnerUpLag)
        rows.emplace_back("Next best lag", ms(*report.runnerUpLag) + ", " +
                                               plainNumber(report.runnerUpMargin * 100.0, 0) + " % as high");
    if (report.secondCluster) rows.emplace_back("Others agree on", ms(*report.secondCluster));
    if (report.driftPpm)
        rows.emplace_back("Drift",
                          plainNumber(*report.driftPpm, 1) + " ppm, give or take " + plainNumber(report.driftPpmSd, 1));
    // Of the sum, with what is applied now.
    const auto applied = model.values.hasLag ? sumFigures(report, 0, model.values.asSet(0), 1.0) : std::nullopt;
    if (applied)
    {
        rows.emplace_back("Flam", ms(applied->flamBefore) + " as recorded, " + ms(applied->flamAfter) + " as set");
        rows.emplace_back("Attack", signedDb(applied->attackGainDb) + " against as recorded");
        rows.emplace_back("Low end of the sum", signedDb(applied->lowSumNormalDb) + " normal, " +
                                                    signedDb(applied->lowSumInvertedDb) + " inverted");
    }
    if (report.pairs.size() > 1)
        for (const auto& pair : report.pairs)
        {
            const auto name = (model.values.spotChannels > 1 ? pair.spotSide == 0 ? "Left" : "Right" : "Spot") +
                              juce::String(" to room ") + juce::String(pair.roomChannel + 1);
            rows.emplace_back(name, pair.lag ? ms(*pair.lag) + ", " + percent(pair.confidence) + " sure"
                                             : juce::String("no start found"));
        }
    return rows;
}
} // namespace

WhyPage::WhyPage()
{
    setTitle("Why");
    viewport.setViewedComponent(&text, false);
    viewport.setScrollBarsShown(true, false);
    viewport.setScrollBarThickness(8);
    viewport.setTitle("Reasons and figures");
    viewport.setWantsKeyboardFocus(true);
    addAndMakeVisible(viewport);
}

void WhyPage::update(const EditorModel& model)
{
    auto reasons = reasonWords(model);
    auto figures = figuresOf(model);
    if (reasons == text.reasons && figures == text.figures) return;
    text.reasons = std::move(reasons);
    text.figures = std::move(figures);
    juce::String spoken = text.reasons.joinIntoString(" ");
    for (const auto& [name, value] : text.figures) spoken << " " << name << ": " << value << ".";
    text.setDescription(spoken);
    viewport.setDescription(spoken);
    text.fit(viewport.getMaximumVisibleWidth());
    text.repaint();
}

void WhyPage::resized()
{
    viewport.setBounds(getLocalBounds());
    text.fit(viewport.getMaximumVisibleWidth());
}

juce::TextLayout WhyPage::Text::reasonLines(int width, juce::Colour colour) const
{
    juce::AttributedString string;
    string.append(reasons.joinIntoString("\n"), Look::font(Look::small), colour);
    string.setWordWrap(juce::AttributedString::byWord);
    string.setLineSpacing(2.0F);
    juce::TextLayout layout;
    layout.createLayout(string, static_cast<float>(width - 12));
    return layout;
}

void WhyPage::Text::fit(int width)
{
    if (width <= 0) return;
    const auto height = juce::roundToInt(std::ceil(reasonLines(width, {}).getHeight()));
    setSize(width, height + 12 + rowHeight * static_cast<int>(figures.size()));
}

void WhyPage::Text::paint(juce::Graphics& g)
{
    const auto& theme = Look::of(*this);
    const auto layout = reasonLines(getWidth(), theme.ink);
    layout.draw(g, getLocalBounds().toFloat().withWidth(static_cast<float>(getWidth() - 12)));
    int y = juce::roundToInt(std::ceil(layout.getHeight())) + 8;
    g.setColour(theme.line);
    g.fillRect(0, y - 1, getWidth() - 12, 1);
    g.setFont(Look::font(Look::small));
    for (const auto& [name, value] : figures)
    {
        g.setColour(theme.dim);
        Look::write(g, name, juce::Rectangle<int>(0, y, nameWidth, rowHeight), juce::Justification::centredLeft);
        g.setColour(theme.ink);
        Look::write(g, value, juce::Rectangle<int>(nameWidth, y, getWidth() - 12 - nameWidth, rowHeight),
                    juce::Justification::centredLeft);
        y += rowHeight;
    }
}
} // namespace tarry
