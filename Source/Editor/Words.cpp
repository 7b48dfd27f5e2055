#include "Editor/Words.h"

#include "Core/Ground/Acoustics.h"
#include "Core/Ground/Text.h"
#include "Core/Report/SideAlignment.h"

#include <cmath>

namespace tarry
{
namespace
{
juce::String minusSign()
{
    return juce::String::charToString(0x2212);
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

juce::String plainNumber(double value, int decimals)
{
    // String(x, 0) would write every digit.
    const auto text = decimals > 0 ? juce::String(std::abs(value), decimals)
                                   : juce::String(static_cast<juce::int64>(std::llround(std::abs(value))));
    const bool isZero = text.getDoubleValue() <= 0.0;
    return (value < 0.0 && !isZero ? minusSign() : juce::String()) + text;
}

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

juce::String unitSign(LagUnit unit)
{
    switch (unit)
    {
    case LagUnit::ms:
        return "ms";
    case LagUnit::samples:
        return "smp";
    case LagUnit::metres:
        return "m";
    case LagUnit::feet:
        return "ft";
    }
    return {};
}

double stepOf(LagUnit unit, const LagScale& scale)
{
    return fromUnit(unit == LagUnit::samples ? 1.0 : 0.01, unit, scale);
}

juce::String stepText(LagUnit unit)
{
    return (unit == LagUnit::samples ? "1 " : "0.01 ") + unitSign(unit);
}

juce::String lagNumber(double seconds, LagUnit unit, const LagScale& scale, int decimals)
{
    return plainNumber(toUnit(seconds, unit, scale), decimals);
}

juce::String lagText(double seconds, LagUnit unit, const LagScale& scale)
{
    return lagNumber(seconds, unit, scale) + " " + unitSign(unit);
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

juce::String signedDb(double db)
{
    const auto text = plainNumber(db, 1);
    return (db > 0.0 && text != "0.0" ? "+" : "") + text + " dB";
}

juce::String gapWords(double gap)
{
    if (std::abs(gap) < 0.00005) return "both together";
    return (gap > 0.0 ? "room leads by " : "spot leads by ") + plainMs(gap) + " ms";
}

juce::String leanWords(const EditorModel& model)
{
    const auto& values = model.values;
    if (!values.hasLag) return "once there is a lag";
    if (model.report.lag) return gapWords(values.asSet(0).lag - *model.report.lag);
    const double lean = values.controls.lean;
    return std::abs(lean) < 0.00005 ? juce::String("no lean")
                                    : plainMs(lean) + (lean > 0.0 ? " ms later" : " ms earlier");
}

std::vector<juce::String> sumWords(const BlendFigures& sum, Polarity polarity)
{
    const bool isNormal = polarity == Polarity::normal;
    const double low = isNormal ? sum.lowSumNormalDb : sum.lowSumInvertedDb;
    const double lowTurned = isNormal ? sum.lowSumInvertedDb : sum.lowSumNormalDb;
    return {"attack " + signedDb(sum.attackGainDb), "low end " + signedDb(low),
            "flam " + plainNumber(sum.flamBefore * 1e3, 1) + " to " + plainNumber(sum.flamAfter * 1e3, 1) + " ms",
            "turned over: low end " + signedDb(lowTurned)};
}

bool isTold(const Report& report)
{
    constexpr double least = 0.1;
    return report.input == InputState::good && report.lag && report.confidence >= least;
}

bool isAnotherLag(const EditorModel& model)
{
    const auto& report = model.report;
    return model.values.byHand && model.values.hasLag && report.lag &&
           (std::abs(model.values.applied().lag - *report.lag) > audibleChange ||
            model.values.applied().polarity != report.polarity.value_or(Polarity::normal));
}

std::optional<Alignment> otherLag(const EditorModel& model)
{
    if (!model.values.hasLag) return {};
    if (model.values.offered) return model.values.offered->side[0];
    if (isAnotherLag(model)) return Alignment{*model.report.lag, model.report.polarity.value_or(Polarity::normal)};
    return {};
}

juce::String waitWords(const EditorModel& model)
{
    const auto& values = model.values;
    if (!values.hasLag) return isTold(model.report) ? "measured, not applied" : "no lag yet";
    const juce::String source = values.byHand ? ", by hand" : "";
    if (std::abs(values.controls.lean) >= 5e-6) return "lag without lean" + source; // the spot waits for both
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

juce::String nameWords(const EditorModel& model)
{
    const auto& names = model.values.names;
    juce::StringArray parts;
    const auto add = [&parts](const char* before, const std::string& name)
    {
        if (!name.empty()) parts.add(before + juce::String::fromUTF8(name.c_str()));
    };
    add("", names.spot);
    add(names.spot.empty() ? "" : "to ", names.room);
    auto text = parts.joinIntoString(" ");
    parts.clear();
    if (text.isNotEmpty()) parts.add(text);
    add("cue ", names.cue);
    add("take ", names.take);
    return parts.joinIntoString(", ");
}

bool canBeApplied(const EditorModel& model)
{
    const auto& lag = model.report.lag;
    return lag && *lag >= -model.values.setup.lookAhead;
}

juce::String verdictWords(const EditorModel& model)
{
    if (model.report.input == InputState::noRoom) return "No room";
    if (model.report.input == InputState::sameSignal) return "Same signal";
    if (model.report.input == InputState::ownSignal) return "Own signal";
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

juce::String percent(double share)
{
    return juce::String(juce::jlimit(0, 99, juce::roundToInt(share * 100.0))) + " %";
}

juce::String confidenceWords(const EditorModel& model)
{
    // Of the lag, not of the verdict.
    return isTold(model.report) ? "lag " + percent(model.report.confidence) + " sure" : juce::String();
}

juce::StringArray reasonWords(const EditorModel& model)
{
    juce::StringArray words;
    const auto& report = model.report;
    if (model.values.spotClipped) words.add("The spot clips: turn it down before the insert.");
    for (const auto& advice : model.values.advice) words.add(juce::String::fromUTF8(advice.c_str()));
    if (model.values.renderedUnsettled)
        words.add(model.values.hasLag ? "The last render was not settled: it holds what was held at its start."
                                      : "Rendered as recorded: not settled.");
    if (report.input == InputState::noRoom)
        words.add("The side-chain is silent. Send the room microphone to it.");
    else if (report.input == InputState::sameSignal)
        words.add("Spot and room carry the same signal. Check what feeds the side-chain.");
    else if (report.input == InputState::ownSignal)
        words.add("The room carries this spot's own signal: the host's routing sends it back. Feed the side-chain from "
                  "the room microphone alone, not from a bus that this spot is in.");
    else if (report.hitsFound == 0)
        words.add(model.values.phase == Phase::frozen ? "The lag is held. Press Measure to measure again."
                                                      : "Play a few hits, or strike a clap at the instrument.");
    else
        for (const auto& reason : report.reasons) words.add(juce::String::fromUTF8(reason.c_str()));
    if (report.hitsLost > 0)
        words.add(juce::String(report.hitsLost) + (report.hitsLost == 1 ? " hit was" : " hits were") +
                  " missed, the computer was too busy: play a few more.");
    return words;
}
} // namespace tarry
