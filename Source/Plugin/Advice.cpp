#include "Plugin/Advice.h"

#include "Core/Ground/Text.h"
#include "Core/Report/SideAlignment.h"
#include "Core/Report/SidesDiffer.h"
#include "Core/Report/Tape.h"

#include <cmath>

namespace tarry
{
namespace
{
/// s: later than the room by this much, a spot is no spot: half a metre of air and more.
constexpr double swappedFrom = -0.0015;

std::string ms(double seconds, int decimals = 2)
{
    return shown(1000.0 * seconds, decimals) + " ms";
}

std::string wordsOf(const Alignment& side)
{
    return ms(side.lag) + (side.polarity == Polarity::inverted ? ", inverted" : "");
}

std::string wordsOf(const Sides& sides)
{
    auto text = wordsOf(sides.side[0]);
    if (!(sides.side[1] == sides.side[0])) text += " and " + wordsOf(sides.side[1]);
    return text;
}

std::string spotIsLate(const Report& report, const Setup& setup)
{
    const double lag = *report.lag;
    if (lag >= 0.0) return {};
    std::string text = lag <= swappedFrom ? "Are spot and room swapped? The spot is later than the room by "
                                          : "The spot is later than the room by ";
    text += ms(-lag);
    if (lag < -wholeNanoseconds(setup.lookAhead))
        text += "; to move it earlier takes a look-ahead of " + fixed(std::ceil(-1000.0 * lag), 0) + " ms";
    return text + ".";
}
} // namespace

std::vector<std::string> adviceOn(const Report& report, const Follow::State& state, const Controls& controls,
                                  const Setup& setup, int spotChannels)
{
    std::vector<std::string> advice;
    const auto add = [&](std::string text)
    {
        if (!text.empty()) advice.push_back(std::move(text));
    };
    const bool measured = report.input == InputState::good && report.lag;
    if (state.held && state.byHand)
    {
        const auto found = measured ? Follow::estimate(report, controls.eachSide) : std::nullopt;
        if (found && Follow::canBeHeard(*state.held, *found))
            add("This speaks of the measured " + wordsOf(*found) + ", not of the " + wordsOf(*state.held) +
                " set by hand.");
    }
    if (!measured) return advice;
    add(spotIsLate(report, setup));
    if (const auto differ = sidesDiffer(report); spotChannels > 1 && !controls.eachSide && !differ.empty())
        add(differ + " 'Each side its own lag' aligns both.");
    if (const auto tape = tapeWords(report.lag, setup); tape.find("not") != std::string::npos) add(tape);
    return advice;
}

std::string offerWords(const Offer& offer, const std::optional<Sides>& held)
{
    std::string text;
    switch (offer.why)
    {
    case Offer::Why::watched:
        text = "The last " + std::to_string(offer.from->hitsAgreeing) + " hits say ";
        break;
    case Offer::Why::rendered:
        text = "Measured while rendering: ";
        break;
    default:
        text = "Measured now: ";
        break;
    }
    text += wordsOf(offer.sides);
    return text + (held ? "; " + wordsOf(*held) + " is held." : "; the spot is as recorded.");
}

std::string freezeWords(const Follow::FreezePlan& plan)
{
    using Does = Follow::FreezePlan::Does;
    if (plan.does == Does::staysAsRecorded || !plan.sides) return "Stay as recorded";
    return (plan.does == Does::takesEstimate ? "Freeze " : "Keep ") + wordsOf(*plan.sides);
}

std::string tapeWords(const std::optional<double>& lag, const Setup& setup)
{
    if (setup.tape <= 0.0 || lag.value_or(-1.0) < 0.0) return {};
    const auto check = checkTape(*lag, setup.tape, setup.temperature);
    const auto air = fixed(check.metres, 2) + " m by the tape take " + ms(check.expected);
    if (check.agrees) return air + ": that agrees.";
    return air + ": the lag does not agree, it is " + ms(std::abs(check.difference)) +
           (check.difference < 0.0 ? " shorter." : " longer.");
}
} // namespace tarry
