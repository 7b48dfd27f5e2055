#include "Command/Summary.h"

#include "Core/Ground/Acoustics.h"
#include "Core/Ground/Text.h"
#include "Files/MeasuredRecall.h"

#include <cmath>

namespace tarry::command
{
namespace
{
std::string row(const std::string& name, const std::string& value)
{
    constexpr std::size_t column = 13;
    return name + std::string(column - std::min(column - 1, name.size()), ' ') + value + "\n";
}

std::string plural(int count, const std::string& thing)
{
    return std::to_string(count) + " " + thing + (count == 1 ? "" : "s");
}

std::string describe(const AudioInfo& info)
{
    return info.file.string() + " (" + plural(info.channels, "channel") + ", " + std::to_string(info.sampleRate) +
           " Hz, " + shown(info.seconds(), 1) + " s)";
}

std::string describeVerdict(Verdict verdict)
{
    switch (verdict)
    {
    case Verdict::align:
        return "align";
    case Verdict::leave:
        return "leave as recorded";
    default:
        return "unsure";
    }
}

std::string signedDb(double value)
{
    return shownSigned(value, 1) + " dB";
}

/// A lag that is more likely wrong than right is no figure to go by.
bool isFigure(const Report& report)
{
    return report.lag && (report.verdict == Verdict::align || report.confidence >= 0.5);
}

std::string lagRows(const Measurement& measurement)
{
    const Report& report = measurement.report;
    if (!report.lag) return row("Lag", "none found");
    const double lag = *report.lag;
    if (!isFigure(report))
        return row("Lag", "none to go by; the best guess, " + shown(lag * 1e3, 1) + " ms, is more likely wrong than " +
                              "right (" + shownPercent(report.confidence) + ")");
    const double metres = distanceOf(lag, measurement.settings.temperature);
    std::string value = shown(std::abs(lag) * 1e3, 3) + " ms, the room is " + (lag < 0 ? "earlier" : "later") + " (" +
                        shown(std::abs(samplesOf(measurement, lag)), 2) + " samples";
    if (lag > 0)
        value += "; " + shown(metres, 2) + " m or " + shown(metres / metresPerFoot, 1) + " ft of air at " +
                 shown(measurement.settings.temperature, 0) + " °C";
    std::string text = row("Lag", value + ")");
    if (report.polarity) text += row("Polarity", nameOf(*report.polarity));
    text += row("Confidence", shownPercent(report.confidence) + " that the lag is right to within 0.5 ms");
    return text;
}

std::string blendRows(const Report& report)
{
    const BlendFigures& blend = report.blend;
    const std::string moved = report.verdict == Verdict::align ? "aligned" : "were it moved";
    std::string text = row("Flam", shown(blend.flamBefore * 1e3, 1) + " ms as recorded, " +
                                       shown(blend.flamAfter * 1e3, 1) + " ms " + moved);
    text += row("Attack gain", signedDb(blend.attackGainDb) + " in the sum once " +
                                   (report.verdict == Verdict::align ? "aligned" : "moved"));
    text +=
        row("Low sum", "normal " + signedDb(blend.lowSumNormalDb) + ", inverted " + signedDb(blend.lowSumInvertedDb));
    return text;
}
std::string bandRow(const Report& report)
{
    std::string text;
    for (const BandSign& band : report.bands)
    {
        if (!text.empty()) text += ", ";
        text += shown(band.lowHz, 0) + " to " + shown(band.highHz, 0) + " Hz " + nameOf(band.polarity) + " (" +
                shown(band.clearDb, 0) + " dB clear)";
    }
    return text.empty() ? text : row("By band", text);
}
} // namespace

std::string summaryOf(const Measurement& measurement)
{
    const Report& report = measurement.report;
    std::string text;
    if (const std::string names = namesOf(measurement.names); !names.empty()) text += row("Names", names);
    text += row("Spot", describe(measurement.spot)) + row("Room", describe(measurement.room));
    text += row("Verdict", describeVerdict(report.verdict));
    for (const auto& reason : report.reasons) text += row("", reason);
    text += lagRows(measurement);
    if (measurement.eachSide)
        for (std::size_t i = 0; const auto& side : alignmentOf(measurement))
            text +=
                row(i++ == 0 ? "Left side" : "Right side", shown(side.lag * 1e3, 3) + " ms, " + nameOf(side.polarity));
    if (const std::string tape = tapeSentence(measurement); !tape.empty()) text += row("Tape", tape);
    text += row("Hits", std::to_string(report.hitsFound) + " found, " + std::to_string(report.hitsUsed) + " used, " +
                            std::to_string(report.hitsAgreeing) + " agreeing" +
                            (report.hitsUsed > 1 ? ", spread " + shown(report.spread * 1e3, 3) + " ms" : ""));
    if (isFigure(report))
    {
        text += row("Clear by", shown(report.clearDb, 1) + " dB above what comes before the arrival");
        text += bandRow(report) + blendRows(report);
    }
    if (report.driftPpm)
        text += row("Drift", shown(*report.driftPpm, 2) + " ppm (give or take " + shown(report.driftPpmSd, 2) + ")");
    for (const auto& note : measurement.notes) text += row("Note", note);
    if (report.verdict == Verdict::align) text += row("Recall", recallLineOf(measurement));
    return text;
}
} // namespace tarry::command
