#include "Editor/Figures.h"

#include "Editor/Waves.h"
#include "Editor/Words.h"

namespace tarry
{
namespace
{
juce::String ms(double seconds)
{
    return lagText(seconds, LagUnit::ms, {});
}

juce::String nextBest(const Report& report)
{
    return ms(*report.runnerUpLag) + ", " + plainNumber(report.runnerUpMargin * 100.0, 0) + " % as high";
}

juce::String asDistance(const EditorModel& model)
{
    const LagScale scale{model.values.sampleRate, model.values.setup.temperature};
    return lagText(*model.report.lag, LagUnit::metres, scale) + ", " + lagText(*model.report.lag, LagUnit::feet, scale);
}
} // namespace

std::vector<Figure> allFigures(const EditorModel& model)
{
    const auto& report = model.report;
    std::vector<Figure> rows;
    const auto add = [&rows](const juce::String& name, const juce::String& value) { rows.push_back({name, value}); };
    if (!isTold(report)) return rows; // no figures where there is nothing to be said by them

    add("Measured lag", ms(*report.lag) + ", " + polarityName(report.polarity.value_or(Polarity::normal)));
    add("Confidence", percent(report.confidence) + " that it is right to within 0.5 ms");
    add("As a distance", asDistance(model));
    if (!model.values.tapeWords.empty()) add("By the tape", juce::String::fromUTF8(model.values.tapeWords.c_str()));
    add("Hits", juce::String(report.hitsFound) + " found, " + juce::String(report.hitsUsed) + " used, " +
                    juce::String(report.hitsAgreeing) + " agree");
    add("Spread of the hits", ms(report.spread));
    add("Clear by", plainNumber(report.clearDb, 1) + " dB");
    if (report.runnerUpLag) add("Next best lag", nextBest(report));
    if (report.secondCluster) add("Others agree on", ms(*report.secondCluster));
    if (report.driftPpm)
        add("Drift", plainNumber(*report.driftPpm, 1) + " ppm, give or take " + plainNumber(report.driftPpmSd, 1));
    // Of the sum, with what is applied now.
    const auto applied = model.values.hasLag ? sumFigures(report, 0, model.values.asSet(0), 1.0) : std::nullopt;
    if (applied)
    {
        add("Flam", ms(applied->flamBefore) + " as recorded, " + ms(applied->flamAfter) + " as set");
        add("Attack", signedDb(applied->attackGainDb) + " against as recorded");
        add("Low end of the sum",
            signedDb(applied->lowSumNormalDb) + " normal, " + signedDb(applied->lowSumInvertedDb) + " inverted");
    }
    if (report.pairs.size() > 1)
        for (const auto& pair : report.pairs)
        {
            const auto name = (model.values.spotChannels > 1 ? pair.spotSide == 0 ? "Left" : "Right" : "Spot") +
                              juce::String(" to room ") + juce::String(pair.roomChannel + 1);
            add(name,
                pair.lag ? ms(*pair.lag) + ", " + percent(pair.confidence) + " sure" : juce::String("no start found"));
        }
    return rows;
}

std::vector<Figure> briefFigures(const EditorModel& model)
{
    const auto& report = model.report;
    if (!isTold(report)) return {};
    std::vector<Figure> rows;
    rows.push_back({"spread of the hits", ms(report.spread)});
    rows.push_back({"clear by", plainNumber(report.clearDb, 1) + " dB"});
    if (report.runnerUpLag) rows.push_back({"next best lag", nextBest(report)});
    if (report.secondCluster) rows.push_back({"others agree on", ms(*report.secondCluster)});
    if (report.driftPpm) rows.push_back({"drift", plainNumber(*report.driftPpm, 1) + " ppm"});
    rows.push_back({"hits", juce::String(report.hitsFound) + " found, " + juce::String(report.hitsUsed) + " used"});
    rows.push_back({"distance", asDistance(model)});
    const auto& setup = model.values.setup;
    rows.push_back({"by the tape", setup.tape > 0.0 ? plainNumber(setup.tape, 2) + " m" : juce::String("not taped")});
    rows.push_back({"air", plainNumber(setup.temperature, 1) + " " + juce::String::charToString(0xb0) + "C"});
    return rows;
}
} // namespace tarry
