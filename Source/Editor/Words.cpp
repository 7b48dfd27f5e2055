#include "Editor/Words.h"

#include "Core/Ground/Acoustics.h"
#include "Core/Ground/Text.h"

#include <cmath>

namespace tarry
{
namespace
{
juce::String minusSign()
{
    return juce::String::charToString(0x2212);
}

/// Fixed decimals, a true minus sign, and never "-0.00".
juce::String number(double value, int decimals)
{
    const auto text = juce::String(std::abs(value), decimals);
    const bool isZero = text.getDoubleValue() <= 0.0;
    return (value < 0.0 && !isZero ? minusSign() : juce::String()) + text;
}

/// "8" or "8.5": a decimal only where it says something.
juce::String plainMs(double seconds)
{
    const double ms = std::abs(seconds) * 1e3;
    const bool whole = std::abs(ms - std::round(ms)) < 0.05;
    return whole ? juce::String(juce::roundToInt(ms)) : juce::String(ms, 1); // String(ms, 0) would write every digit
}

double toUnit(double seconds, LagUnit unit, const LagScale& scale)
{
    switch (unit)
    {
    case LagUnit::ms:
        return seconds * 1e3;
    case LagUnit::samples:
        return seconds * scale.sampleRate;
    case LagUnit::metres:
        return distanceOf(seconds, scale.temperature);
    case LagUnit::feet:
        return distanceOf(seconds, scale.temperature) / metresPerFoot;
    }
    return seconds;
}

double fromUnit(double value, LagUnit unit, const LagScale& scale)
{
    switch (unit)
    {
    case LagUnit::ms:
        return value / 1e3;
    case LagUnit::samples:
        return value / scale.sampleRate;
    case LagUnit::metres:
        return travelTime(value, scale.temperature);
    case LagUnit::feet:
        return travelTime(value * metresPerFoot, scale.temperature);
    }
    return value;
}

std::optional<LagUnit> unitNamed(const juce::String& name)
{
    if (juce::StringArray{"ms", "msec"}.contains(name)) return LagUnit::ms;
    if (juce::StringArray{"samples", "sample", "smp", "s"}.contains(name)) return LagUnit::samples;
    if (juce::StringArray{"m", "metres", "metre", "meters", "meter"}.contains(name)) return LagUnit::metres;
    if (juce::StringArray{"ft", "feet", "foot", "'"}.contains(name)) return LagUnit::feet;
    return {};
}
} // namespace

juce::String unitName(LagUnit unit)
{
    switch (unit)
    {
    case LagUnit::ms:
        return "ms";
    case LagUnit::samples:
        return "samples";
    case LagUnit::metres:
        return "metres";
    case LagUnit::feet:
        return "feet";
    }
    return {};
}

juce::String lagNumber(double seconds, LagUnit unit, const LagScale& scale)
{
    return number(toUnit(seconds, unit, scale), 2);
}

juce::String lagText(double seconds, LagUnit unit, const LagScale& scale)
{
    return lagNumber(seconds, unit, scale) + " " + unitName(unit);
}

std::optional<double> readLag(const juce::String& typed, LagUnit unit, const LagScale& scale)
{
    const auto text = typed.trim().toLowerCase().replace(minusSign(), "-").replaceCharacter(',', '.');
    const auto digits = text.initialSectionContainingOnly("+-0123456789.");
    const auto name = text.substring(digits.length()).trim();
    if (!digits.containsAnyOf("0123456789") || digits.lastIndexOfAnyOf("+-") > 0 ||
        digits.indexOfChar('.') != digits.lastIndexOfChar('.'))
        return {};
    if (name.isNotEmpty())
    {
        const auto named = unitNamed(name);
        if (!named) return {};
        unit = *named;
    }
    return fromUnit(digits.getDoubleValue(), unit, scale);
}

juce::String shortMs(double seconds)
{
    return number(seconds * 1e3, 1) + " ms";
}

juce::String signedDb(double db)
{
    const auto text = number(db, 1);
    return (db > 0.0 && text != "0.0" ? "+" : "") + text + " dB";
}

juce::String leanWords(double lean)
{
    if (std::abs(lean) < 0.00005) return "spot and room together";
    return (lean > 0.0 ? "room leads by " : "spot leads by ") + plainMs(lean) + " ms";
}

juce::String waitWords(const EditorModel& model)
{
    const auto& values = model.values;
    if (!values.hasLag) return model.report.lag ? "measured, not applied" : "no lag yet";
    const juce::String source = values.byHand ? ", by hand" : "";
    if (values.applied().lag < 0.0) return "spot is late" + source;
    return "spot waits" + source;
}

juce::String phaseName(Phase phase)
{
    switch (phase)
    {
    case Phase::measuring:
        return "Measuring";
    case Phase::settled:
        return "Settled";
    case Phase::frozen:
        return "Frozen";
    }
    return {};
}

juce::String hitWords(const EditorModel& model)
{
    const auto& report = model.report;
    if (model.values.phase == Phase::frozen && model.values.byHand) return "set by hand";
    if (report.hitsFound == 0) return model.values.phase == Phase::frozen ? "holding" : "no hit yet";
    if (report.hitsFound == 1) return report.hitsAgreeing == 1 ? "1 hit" : "1 hit, no arrival";
    return juce::String(report.hitsAgreeing) + " of " + juce::String(report.hitsFound) + " hits agree";
}

juce::String polarityName(Polarity polarity)
{
    return nameOf(polarity);
}

juce::String verdictWords(const EditorModel& model)
{
    switch (model.report.input)
    {
    case InputState::noRoom:
        return "No room";
    case InputState::sameSignal:
        return "Same signal";
    case InputState::good:
        break;
    }
    if (model.report.hitsFound == 0) return model.values.phase == Phase::frozen ? "Held" : "Waiting";
    switch (model.report.verdict)
    {
    case Verdict::align:
        return "Align";
    case Verdict::leave:
        return "Leave";
    case Verdict::unsure:
        return "Unsure";
    }
    return {};
}

juce::String confidenceWords(const EditorModel& model)
{
    const auto& report = model.report;
    if (report.input != InputState::good) return {};
    if (!report.lag) return {};
    // Never "100 %": the confidence is a probability, and 1 is not one that a measurement can have.
    const int percent = juce::jlimit(0, 99, juce::roundToInt(report.confidence * 100.0));
    return "lag " + juce::String(percent) + " % sure"; // the lag, not the verdict
}

juce::StringArray reasonWords(const EditorModel& model)
{
    juce::StringArray words;
    const auto& report = model.report;
    if (model.values.spotClipped) words.add("The spot clips: turn it down before the insert.");
    if (report.input == InputState::noRoom)
        words.add("The side-chain is silent. Send the room microphone to it.");
    else if (report.input == InputState::sameSignal)
        words.add("Spot and room carry the same signal. Check what feeds the side-chain.");
    else if (report.hitsFound == 0)
        words.add(model.values.phase == Phase::frozen ? "The lag is held. Press Measure to measure again."
                                                      : "Play a few hits, or strike a clap at the instrument.");
    else
        for (const auto& reason : report.reasons) words.add(juce::String::fromUTF8(reason.c_str()));
    if (report.hitsLost > 0)
        words.add(juce::String(report.hitsLost) + " hits came too fast to be kept; they were not measured.");
    return words;
}
} // namespace tarry
