#include "Core/Report/Verdict.h"

#include "Core/Ground/Text.h"
#include "Core/Report/Drift.h"

#include <algorithm>
#include <cmath>

namespace tarry
{
namespace
{
constexpr double together = 0.6; // share of the used hits that have to agree: a roll scatters, a section does so more
constexpr int sectionHits = 6;   // a few hits are no section
constexpr double ownInSection = 0.7;  // share of the hits that are used, at most, where a section is heard
constexpr double ownLoudness = 0.5;   // share of what the spot hears of all hits that agrees, less than
constexpr int fewUnheard = 3;         // a stand that was touched once is not worth a word
constexpr double unheardShare = 0.15; // of all sounds, nor are these few
constexpr double noticeable = 3.0;    // dB between the two low sums
constexpr double clearBand = 6.0;     // dB; in 48 halls a band so clear had the right sign 37 times of 37 below 1 kHz,
                                      // 38 of 41 above

std::string milliseconds(double seconds)
{
    return shown(seconds * 1e3, 2) + " ms";
}

std::string lengthOf(double seconds)
{
    const int whole = static_cast<int>(std::lround(seconds));
    if (whole < 120) return std::to_string(whole) + " seconds";
    return std::to_string((whole + 30) / 60) + " minutes";
}

void judgeInput(Report& report)
{
    report.verdict = Verdict::unsure;
    if (report.input == InputState::ownSignal)
        report.reasons.emplace_back(
            "The room carries this spot's own signal, sent back by the routing: connect the room "
            "microphone itself.");
    else if (report.input == InputState::noRoom)
        report.reasons.emplace_back("The room is silent: connect the room microphone.");
    else
        report.reasons.emplace_back("Spot and room carry the same signal: connect the room microphone as the room.");
}

/// "5 of 6 hits agree"
std::string hitsAgree(const Report& report)
{
    return std::to_string(report.hitsAgreeing) + " of " + std::to_string(report.hitsUsed) + " hits agree";
}

/// "60 to 250 Hz and 1 to 4 kHz"
std::string bandsWith(const Report& report, Polarity polarity)
{
    std::string list;
    for (const BandSign& band : report.bands)
    {
        if (band.polarity != polarity || band.clearDb < clearBand) continue;
        if (!list.empty()) list += " and ";
        list += shown(band.lowHz, 0) + " to " + shown(band.highHz, 0) + " Hz";
    }
    return list;
}

void sayPolarity(Report& report)
{
    const std::string taken = nameOf(*report.polarity);
    const double difference = report.blend.lowSumNormalDb - report.blend.lowSumInvertedDb;
    if (report.signsDisagree)
        report.reasons.push_back("The attack and the low end ask for different polarities; " + taken +
                                 " was taken: listen to both.");
    else if (std::abs(difference) >= noticeable)
        report.reasons.push_back(std::string("Polarity ") +
                                 nameOf(difference > 0 ? Polarity::normal : Polarity::inverted) + " keeps " +
                                 shown(std::abs(difference), 1) + " dB more low end.");
    const std::string normal = bandsWith(report, Polarity::normal), inverted = bandsWith(report, Polarity::inverted);
    if (!normal.empty() && !inverted.empty())
        report.reasons.push_back("The bands disagree on polarity: normal at " + normal + ", inverted at " + inverted +
                                 (report.signsDisagree ? "." : "; " + taken + " was taken: listen to both."));
}

/// "11 of 19 sounds in the spot never reach the room"
std::string soundsUnheard(const Report& report)
{
    return std::to_string(report.hitsUnheard) + " of " + std::to_string(report.hitsFound) +
           " sounds in the spot never reach the room";
}

void sayRest(Report& report, double cueSeconds)
{
    if (report.polarity) sayPolarity(report);
    if (report.hitsUnheard >= fewUnheard && report.hitsUnheard >= unheardShare * report.hitsFound)
        report.reasons.push_back(soundsUnheard(report) + ": a click in the headphones?");
    if (report.hitsRepeated > 0)
        report.reasons.push_back(std::to_string(report.hitsRepeated) + (report.hitsRepeated == 1 ? " hit" : " hits") +
                                 " came round again with the very same samples, as in a loop: each counts once.");
    if (report.leakDb)
        report.reasons.push_back("The spot leaks into the room's track (" + shown(*report.leakDb, 0) +
                                 " dB, by cable or desk); the leak was set aside.");
    if (report.driftPpm)
        if (const auto change = driftThatMatters({*report.driftPpm, report.driftPpmSd}, cueSeconds, report.hitsUsed))
            report.reasons.push_back("The lag drifts by " + shown(*report.driftPpm, 1) + " ppm, two clocks: over " +
                                     lengthOf(cueSeconds) + " it changes by " + milliseconds(std::abs(*change)) +
                                     ". Correct the sample rate of one track first, or align in shorter pieces.");
}

/// Are most hits, and most of what the spot hears of them, somebody else's?
bool hearsASection(const Report& report)
{
    return report.hitsFound >= sectionHits && report.hitsAgreeing >= 2 &&
           report.hitsUsed <= ownInSection * report.hitsFound && report.agreeingLoudness < ownLoudness;
}

/// What would make it surer: hits, as long as there are few; after that what a mixer has who cannot ask for more.
std::string whatHelps(const Report& report)
{
    constexpr int many = 4; // as many as are asked for
    return report.hitsFound - report.hitsUnheard < many
               ? "play four hits alone, or clap once at the instrument."
               : "try another room channel, or set the lag by the tape or by hand.";
}

/// What was measured, and which way it points.
void judgeLag(Report& report)
{
    const bool oneHit = report.hitsUsed == 1;
    const bool agree = report.hitsAgreeing >= together * report.hitsUsed;
    const bool confident = report.confidence >= trusted;
    if (report.lookAheadNeeded > 0.0 && report.hitsAgreeing > 0)
        report.reasons.push_back("The spot is later than the room by " + milliseconds(report.lookAheadNeeded) +
                                 ", its track was moved or recorded late: move it earlier by that, or set a look-ahead "
                                 "of at least " +
                                 shown(std::ceil(report.lookAheadNeeded * 1e3), 0) + " ms.");
    else if (report.secondCluster && !(confident && agree))
    {
        report.verdict = Verdict::leave;
        report.reasons.push_back("Hits gather at two lags, " + milliseconds(*report.lag) + " and " +
                                 milliseconds(*report.secondCluster) +
                                 ": the spot hears several players, or a stand was moved. Aligning to one would blur "
                                 "the other. If a stand was moved, measure the parts before and after on their own.");
    }
    else if (confident && oneHit && report.clap)
    {
        report.verdict = Verdict::align;
        report.reasons.push_back("One clear hit, at " + milliseconds(*report.lag) + ".");
    }
    else if (confident && agree && !oneHit)
    {
        report.verdict = Verdict::align;
        report.reasons.push_back(hitsAgree(report) + " on " + milliseconds(*report.lag) + ".");
    }
    else if (hearsASection(report))
    {
        report.verdict = Verdict::leave;
        report.reasons.push_back("The spot hears several players: " + std::to_string(report.hitsFound) +
                                 " hits, of which " + std::to_string(report.hitsAgreeing) +
                                 " agree on one lag, and most of what it hears comes from the others. Aligning to one "
                                 "would blur them: leave it as recorded.");
    }
    else if (oneHit && report.hitsFound - report.hitsUnheard == 1)
        report.reasons.push_back("One hit alone, at " + milliseconds(*report.lag) +
                                 ": play three more, or say that one clap is enough if it was one.");
    else if (oneHit)
        report.reasons.push_back("Only 1 of " + std::to_string(report.hitsFound) +
                                 " hits can be used: " + whatHelps(report));
    else if (!agree)
        report.reasons.push_back("Only " + hitsAgree(report) + " on one lag: " + whatHelps(report) +
                                 " A spot that hears a whole section has no one lag: leave it as recorded.");
    else
        report.reasons.push_back("The arrival does not stand clear of what else the room hears: " + whatHelps(report));
}
} // namespace

void judge(Report& report, double cueSeconds)
{
    report.reasons.clear();
    report.verdict = Verdict::unsure;
    if (report.input != InputState::good) return judgeInput(report);
    if (report.hitsFound == 0)
    {
        report.reasons.emplace_back(
            "No hit was found in the spot: play four hits alone, and check that it is the spot.");
        return;
    }
    if (report.hitsUnheard == report.hitsFound)
    {
        report.reasons.push_back(soundsUnheard(report) +
                                 ": a click in the headphones, the wrong track as room, or are spot and room swapped?");
        return;
    }
    if (!report.lag || report.hitsUsed == 0)
    {
        report.reasons.emplace_back("The room shows no attack after the spot's: raise the reach if the room is "
                                    "farther away, look ahead if the spot is late, or clap once at the instrument.");
        return;
    }
    judgeLag(report);
    sayRest(report, cueSeconds);
}
} // namespace tarry
