#include "Core/Judgement.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstdio>

namespace tarry
{
namespace
{
constexpr double trusted = 0.9;    // confidence from which the lag may be applied
constexpr double together = 0.6;   // share of the used hits that have to agree: a roll scatters, a section does so more
constexpr double noticeable = 3.0; // dB between the two low sums

std::string number(double value, int decimals)
{
    std::array<char, 40> line{};
    std::snprintf(line.data(), line.size(), "%.*f", decimals, value);
    return line.data();
}

std::string milliseconds(double seconds)
{
    return number(seconds * 1e3, 2) + " ms";
}

void judgeInput(Report& report)
{
    report.verdict = Verdict::unsure;
    if (report.input == InputState::noRoom)
        report.reasons.emplace_back("The room is silent: connect the room microphone to the side-chain.");
    else
        report.reasons.emplace_back("Spot and room carry the same signal: send the room microphone to the side-chain.");
}

std::string hitsAgree(const Report& report)
{
    return std::to_string(report.hitsAgreeing) + " of " + std::to_string(report.hitsUsed) + " hits agree on ";
}

void sayPolarity(Report& report)
{
    const double difference = report.blend.lowSumNormalDb - report.blend.lowSumInvertedDb;
    if (report.signsDisagree)
        report.reasons.push_back("The attack and the low end ask for different polarities; " +
                                 std::string(*report.polarity == Polarity::normal ? "normal" : "inverted") +
                                 " was taken: listen to both.");
    else if (std::abs(difference) >= noticeable)
        report.reasons.push_back("Polarity " + std::string(difference > 0 ? "normal" : "inverted") + " keeps " +
                                 number(std::abs(difference), 1) + " dB more low end.");
}

void sayRest(Report& report)
{
    if (report.polarity) sayPolarity(report);
    if (report.leakDb)
        report.reasons.push_back("An electrical leak of the spot into the room (" + number(*report.leakDb, 0) +
                                 " dB) was set aside.");
    if (report.driftPpm && std::abs(*report.driftPpm) > std::max(1.0, 3.0 * report.driftPpmSd))
        report.reasons.push_back("The lag drifts by " + number(*report.driftPpm, 1) +
                                 " ppm: two clocks. Ten minutes change it by " + number(*report.driftPpm * 0.6, 1) +
                                 " ms.");
    if (report.hitsLost > 0)
        report.reasons.push_back(std::to_string(report.hitsLost) + " hits were missed: the computer was too busy.");
}
} // namespace

void judge(Report& report)
{
    report.reasons.clear();
    report.verdict = Verdict::unsure;
    if (report.input != InputState::good) return judgeInput(report);
    if (report.hitsFound == 0)
    {
        report.reasons.emplace_back("No hit was found in the spot: play a few hits alone.");
        return;
    }
    if (!report.lag || report.hitsUsed == 0)
    {
        report.reasons.emplace_back(
            "The room shows no attack after the spot's: raise the reach, or clap once at the instrument.");
        return;
    }
    const bool oneHit = report.hitsUsed == 1;
    const bool agree = report.hitsAgreeing >= together * report.hitsUsed;
    const bool confident = report.confidence >= trusted;
    const bool twoLags = report.secondCluster.has_value();
    if (twoLags && !(confident && agree))
    {
        report.verdict = Verdict::leave;
        report.reasons.push_back("Hits gather at two lags, " + milliseconds(*report.lag) + " and " +
                                 milliseconds(*report.secondCluster) +
                                 ": the spot hears several players, or a stand was moved. Aligning would blur one.");
    }
    else if (confident && (agree || oneHit))
    {
        report.verdict = Verdict::align;
        report.reasons.push_back(hitsAgree(report) + milliseconds(*report.lag) + ".");
    }
    else if (!agree)
        report.reasons.push_back("Only " + hitsAgree(report) + "one lag: play four hits alone.");
    else
        report.reasons.emplace_back("The arrival does not stand clear of what else the room hears: play four hits "
                                    "alone, or clap once at the instrument.");
    sayRest(report);
}
} // namespace tarry
