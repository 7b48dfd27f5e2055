#include "Editor/WhyPage.h"

#include "Editor/Look.h"
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
    if (!report.lag) return rows;
    const auto ms = [](double seconds) { return lagText(seconds, LagUnit::ms, {}); };

    rows.emplace_back("Measured lag",
                      ms(*report.lag) + ", " + polarityName(report.polarity.value_or(Polarity::normal)));
    rows.emplace_back("Confidence", juce::String(juce::jlimit(0, 99, juce::roundToInt(report.confidence * 100.0))) +
                                        " % that it is right to within 0.5 ms");
    rows.emplace_back("As a distance",
                      lagText(*report.lag, LagUnit::metres, scale) + ", " + lagText(*report.lag, LagUnit::feet, scale));
    rows.emplace_back("Hits", juce::String(report.hitsFound) + " found, " + juce::String(report.hitsUsed) + " used, " +
                                  juce::String(report.hitsAgreeing) + " agree");
    rows.emplace_back("Spread of the hits", ms(report.spread));
    rows.emplace_back("Clear by", juce::String(report.clearDb, 1) + " dB");
    rows.emplace_back("Flam", ms(report.blend.flamBefore) + " as recorded, " + ms(report.blend.flamAfter) + " aligned");
    rows.emplace_back("Attack gain", signedDb(report.blend.attackGainDb));
    if (report.runnerUpLag)
        rows.emplace_back("Next best lag", ms(*report.runnerUpLag) + ", " +
                                               juce::String(juce::roundToInt(report.runnerUpMargin * 100.0)) +
                                               " % as high");
    if (report.secondCluster) rows.emplace_back("Others agree on", ms(*report.secondCluster));
    if (report.driftPpm)
        rows.emplace_back("Drift", juce::String(*report.driftPpm, 1) + " ppm, give or take " +
                                       juce::String(report.driftPpmSd, 1));
    if (report.pairs.size() > 1)
        for (const auto& pair : report.pairs)
        {
            const auto name = (model.values.spotChannels > 1 ? pair.spotSide == 0 ? "Left" : "Right" : "Spot") +
                              juce::String(" to room ") + juce::String(pair.roomChannel + 1);
            rows.emplace_back(name, pair.lag ? ms(*pair.lag) + ", " +
                                                   juce::String(juce::roundToInt(pair.confidence * 100.0)) + " % sure"
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
    string.append(reasons.joinIntoString("\n"), Look::font(Look::body), colour);
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
    g.setFont(Look::font(Look::body));
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
