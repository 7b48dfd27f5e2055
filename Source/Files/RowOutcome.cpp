#include "Files/RowOutcome.h"

#include "Core/Ground/Acoustics.h"
#include "Core/Ground/Text.h"
#include "Core/Report/SideAlignment.h"
#include "Core/Report/Verdict.h"
#include "Files/Measurement.h"

#include <cmath>

namespace tarry
{
namespace
{
constexpr double clearLowSum = 3.0; // dB between both polarities that a mixer would notice

/// dB by which the low sum speaks for `polarity`.
double lowSumFor(Polarity polarity, double normal, double inverted)
{
    return polarity == Polarity::normal ? normal - inverted : inverted - normal;
}

void takeOver(SessionRow& row, const LagFigures& from)
{
    row.lag = from.lag;
    row.polarity = from.polarity;
    row.verdict = from.verdict;
    row.confidence = from.confidence;
}

std::string poolSentence(const PooledPlace& place)
{
    const std::string lag = msText(*place.figures.lag);
    if (place.byClap) return "A clap at the head of a take of " + place.name + " says " + lag + ".";
    return std::to_string(place.takesAgreeing) + " of " + std::to_string(place.takes) + " takes of " + place.name +
           " that show a lag agree on " + lag + ".";
}

/// Which lag holds: the pool's, unless this take says for sure that its spot is to be left.
void settleLag(SessionRow& row, const MeasuredTake& take, const PooledPlace& place)
{
    takeOver(row, row.own);
    row.reasons = row.own.reasons;
    if (place.figures.lag && row.own.lag) row.againstPool = wholeNanoseconds(*row.own.lag - *place.figures.lag);
    if (!place.rules || row.own.verdict == Verdict::leave) return;

    row.fromPool = true;
    takeOver(row, place.figures);
    row.reasons = {poolSentence(place)};
    if (!take.isSure())
        for (const auto& reason : row.own.reasons) row.reasons.push_back("On its own: " + reason);
    else
        row.reasons.insert(row.reasons.end(), row.own.reasons.begin() + 1, row.own.reasons.end());
    // A switch that was turned over for one take.
    const double speaks = lowSumFor(row.own.polarity, row.own.lowSumNormal, row.own.lowSumInverted);
    if (take.isSure() && row.own.polarity != row.polarity && speaks >= clearLowSum)
    {
        row.polarity = row.own.polarity;
        row.wantsEar.push_back("Its polarity is " + std::string(nameOf(row.polarity)) + ", the other takes' " +
                               nameOf(place.figures.polarity) + ": was a switch turned over? Listen to both.");
    }
}

void addDistances(SessionRow& row, const MeasuredTake& take)
{
    const double celsius = take.settings.temperature;
    if (row.lag.value_or(-1.0) >= 0.0) row.distance = distanceOf(*row.lag, celsius);
    if (!take.taped) return;
    Measurement measurement;
    measurement.report.lag = row.lag;
    measurement.settings = take.settings;
    measurement.taped = take.taped;
    TapeFigures tape{*take.taped, 0.0, false, tapeSentence(measurement)};
    if (const auto check = tapeCheckOf(measurement))
    {
        tape.difference = check->difference;
        tape.agrees = check->agrees;
        if (!tape.agrees) row.wantsEar.push_back("The tape does not agree: " + tape.sentence);
    }
    row.tape = tape;
}

void decide(SessionRow& row, const MeasuredTake& take, const std::string& planned)
{
    const bool aligns = row.wished ? *row.wished == Decision::align : row.verdict == Verdict::align;
    row.decision = aligns && row.lag ? Decision::align : Decision::leave;
    row.decidedBy = !row.wished ? "Tarry, by the verdict" : take.by.empty() ? "the plan" : take.by;
    row.decidedOn = planned;
    if (row.wished)
    {
        if (*row.wished == Decision::align && !row.lag)
            row.wantsEar.emplace_back("The plan wants it aligned, but no lag was found: it stays as recorded.");
        return; // somebody has listened
    }
    if (row.verdict != Verdict::align)
        row.wantsEar.insert(row.wantsEar.begin(), row.reasons.empty() ? "No lag was found." : row.reasons.front());
}

void warnOfClocks(SessionRow& row, const MeasuredTake& take, const std::optional<Drift>& clocks)
{
    if (!clocks) return;
    const auto change = driftThatMatters(*clocks, take.seconds);
    if (change)
        row.wantsEar.push_back("Two clocks: the lag drifts by " + shown(clocks->ppm, 1) + " ppm, over this take by " +
                               msText(std::abs(*change)) + ". Correct the sample rate of one track first.");
}
} // namespace

std::string takeName(const std::string& cue, const std::string& take)
{
    return "cue " + cue + ", take " + take;
}

std::string msText(double seconds)
{
    return shown(seconds * 1e3, 2) + " ms";
}

SessionRow outcomeOf(const MeasuredTake& take, const PooledPlace& place, const std::optional<ComeTo>& comeTo,
                     const std::optional<Drift>& clocks, const std::string& planned)
{
    SessionRow row = take.row;
    row.pool = place.name;
    settleLag(row, take, place);
    row.lowSumNormal = row.own.lowSumNormal;
    row.lowSumInverted = row.own.lowSumInverted;
    addDistances(row, take);
    decide(row, take, planned);
    if (comeTo)
    {
        row.moved = comeTo->moved;
        if (comeTo->first) row.wantsEar.insert(row.wantsEar.begin(), comeTo->moved.sentence);
    }
    warnOfClocks(row, take, clocks);
    return row;
}
} // namespace tarry
