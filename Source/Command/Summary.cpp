#include "Command/Summary.h"

#include "Core/Ground/Acoustics.h"

#include <cmath>
#include <cstdio>

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
           " Hz, " + fixed(info.seconds(), 1) + " s)";
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
    std::string text(value < 0 ? "" : "+");
    return text.append(fixed(value, 1)).append(" dB");
}

std::string lagRows(const Measurement& measurement)
{
    const Report& report = measurement.report;
    if (!report.lag) return row("Lag", "none found");
    const double lag = *report.lag;
    const double metres = distanceOf(lag, measurement.settings.temperature);
    std::string value = fixed(lag * 1e3, 3) + " ms, the room is " + (lag < 0 ? "earlier" : "later") + " (" +
                        fixed(samplesOf(measurement, lag), 2) + " samples";
    if (lag > 0)
        value += "; " + fixed(metres, 2) + " m or " + fixed(metres / metresPerFoot, 1) + " ft of air at " +
                 fixed(measurement.settings.temperature, 0) + " °C";
    std::string text = row("Lag", value + ")");
    if (report.polarity) text += row("Polarity", nameOf(*report.polarity));
    const bool nearlySure = report.confidence > 0.99; // nobody is ever 100 % sure
    text += row("Confidence", (nearlySure ? "over 99" : fixed(100.0 * report.confidence, 0)) +
                                  " % that the lag is right to within 0.5 ms");
    return text;
}

std::string blendRows(const Report& report)
{
    const BlendFigures& blend = report.blend;
    std::string text = row("Flam", fixed(blend.flamBefore * 1e3, 1) + " ms as recorded, " +
                                       fixed(blend.flamAfter * 1e3, 1) + " ms aligned");
    text += row("Attack gain", signedDb(blend.attackGainDb) + " in the sum once aligned");
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
        text += fixed(band.lowHz, 0) + " to " + fixed(band.highHz, 0) + " Hz " + nameOf(band.polarity) + " (" +
                fixed(band.clearDb, 0) + " dB clear)";
    }
    return text.empty() ? text : row("By band", text);
}
} // namespace

std::string fixed(double value, int digits)
{
    char text[64];
    const double scale = std::pow(10.0, digits);
    const double rounded = std::round(value * scale) / scale;
    std::snprintf(text, sizeof(text), "%.*f", digits, rounded == 0.0 ? 0.0 : rounded); // never -0
    return text;
}

std::string summaryOf(const Measurement& measurement)
{
    const Report& report = measurement.report;
    std::string text = row("Spot", describe(measurement.spot)) + row("Room", describe(measurement.room));
    text += row("Verdict", describeVerdict(report.verdict));
    for (const auto& reason : report.reasons) text += row("", reason);
    text += lagRows(measurement);
    if (measurement.eachSide)
        for (std::size_t i = 0; const auto& side : alignmentOf(measurement))
            text +=
                row(i++ == 0 ? "Left side" : "Right side", fixed(side.lag * 1e3, 3) + " ms, " + nameOf(side.polarity));
    if (const std::string tape = tapeSentence(measurement); !tape.empty()) text += row("Tape", tape);
    text += row("Hits", std::to_string(report.hitsFound) + " found, " + std::to_string(report.hitsUsed) + " used, " +
                            std::to_string(report.hitsAgreeing) + " agreeing" +
                            (report.hitsUsed > 1 ? ", spread " + fixed(report.spread * 1e3, 3) + " ms" : ""));
    if (report.lag)
    {
        text += row("Clear by", fixed(report.clearDb, 1) + " dB above what comes before the arrival");
        text += bandRow(report) + blendRows(report);
    }
    if (report.driftPpm)
        text += row("Drift", fixed(*report.driftPpm, 2) + " ppm (give or take " + fixed(report.driftPpmSd, 2) + ")");
    for (const auto& note : measurement.notes) text += row("Note", note);
    return text;
}
} // namespace tarry::command
