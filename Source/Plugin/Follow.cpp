#include "Plugin/Follow.h"

#include <algorithm>
#include <cmath>
#include <cstddef>

namespace tarry
{
namespace
{
bool worthAligning(const Report& report)
{
    return report.input == InputState::good && report.verdict == Verdict::align && report.lag;
}

bool differ(const Sides& from, const Sides& to, double seconds)
{
    for (std::size_t i = 0; i < from.side.size(); ++i)
    {
        const bool turned = from.side[i].polarity != to.side[i].polarity;
        const bool moved = std::abs(from.side[i].lag - to.side[i].lag) > seconds;
        if (turned || moved) return true;
    }
    return false;
}
} // namespace

FollowRules rulesOf(const Controls& controls, const Setup& setup)
{
    return {controls.clap, controls.eachSide, controls.freezeWhenSettled, setup.lookAhead};
}

bool Follow::isSettled(const Report& report, const FollowRules& rules)
{
    const bool sure = report.confidence >= settledConfidence;
    const bool often = report.hitsAgreeing >= (rules.clap ? 1 : settledHits);
    const auto found = estimate(report, rules.eachSide);
    return worthAligning(report) && sure && often && found && canBeApplied(*found, rules.lookAhead);
}

bool Follow::canBeHeard(const Sides& from, const Sides& to)
{
    return differ(from, to, audibleChange);
}

bool Follow::isOther(const Sides& from, const Sides& to)
{
    return differ(from, to, otherLag);
}

std::optional<Sides> Follow::estimate(const Report& report, bool eachSide)
{
    if (!report.lag) return std::nullopt;
    Sides sides;
    for (std::size_t i = 0; i < sides.side.size(); ++i)
        sides.side[i] = *alignmentOfSide(report, static_cast<int>(i), eachSide);
    return sides;
}

bool Follow::canBeApplied(const Sides& sides, double lookAhead)
{
    return std::all_of(sides.side.begin(), sides.side.end(),
                       [&](const Alignment& side) { return side.lag >= -wholeNanoseconds(lookAhead); });
}

bool Follow::consider(const Report& report, const FollowRules& rules, bool holdStill)
{
    if (now.phase == Phase::frozen) return false;
    const auto earlier = now;
    const auto found = isSettled(report, rules) ? estimate(report, rules.eachSide) : std::nullopt;
    if (!found)
    {
        now.phase = Phase::measuring;
        return now.phase != earlier.phase;
    }
    bool news = false;
    if (holdStill || (offered && offered->why == Offer::Why::rendered))
        news = propose(Offer::Why::rendered, *found, report);
    else if (now.held && now.byHand)
    {
        keepBeside(report);
        news = canBeHeard(*now.held, *found) ? propose(Offer::Why::besideByHand, *found, report) : withdraw();
    }
    else if (followed && now.held && isOther(*now.held, *found))
        news = propose(Offer::Why::moved, *found, report);
    else if (!followed || !now.held || canBeHeard(*now.held, *found))
    {
        if (!followed) steps.remember("the measured lag", comeBack());
        followed = true;
        hold(*found, std::make_shared<const Report>(report));
    }
    else
        news = withdraw();
    const bool waits = offered && offered->why == Offer::Why::rendered;
    now.phase = rules.freezeWhenSettled && !waits ? Phase::frozen : Phase::settled;
    return news || now != earlier;
}

bool Follow::watch(const Report& report, const FollowRules& rules)
{
    if (now.phase != Phase::frozen || !now.held || !isSettled(report, rules)) return false;
    const auto found = *estimate(report, rules.eachSide);
    // A lag by hand is where somebody wants it: what can have moved is the measured one beside it.
    const auto beside = now.byHand && now.told ? estimate(*now.told, rules.eachSide) : std::nullopt;
    if (isOther(beside.value_or(*now.held), found)) return propose(Offer::Why::watched, found, report);
    return offered && offered->why == Offer::Why::watched && withdraw();
}

bool Follow::withdraw()
{
    const bool wasOffered = offered.has_value();
    offered.reset();
    return wasOffered;
}

bool Follow::propose(Offer::Why why, const Sides& found, const Report& report)
{
    if (dismissed && !isOther(*dismissed, found)) return false;
    if (offered && offered->why == why && !canBeHeard(offered->sides, found)) return false;
    offered = Offer{why, found, std::make_shared<const Report>(report)};
    return true;
}

std::optional<Sides> Follow::besideHeld() const
{
    if (offered) return offered->sides;
    return now.byHand && now.told ? estimate(*now.told, false) : std::nullopt;
}

void Follow::measure()
{
    now.phase = Phase::measuring;
    followed = false;
    offered.reset();
    dismissed.reset();
}

bool Follow::mayFreeze(const Report& report, const FollowRules& rules) const
{
    const bool twice = report.hitsAgreeing >= (rules.clap ? 1 : freezeHits);
    const auto found = estimate(report, rules.eachSide);
    const bool sure = report.confidence >= settledConfidence;
    return worthAligning(report) && sure && twice && found && canBeApplied(*found, rules.lookAhead);
}

Follow::FreezePlan Follow::freezePlan(const Report& report, const FollowRules& rules) const
{
    using Does = FreezePlan::Does;
    const bool mine = now.held && now.byHand;
    if (now.phase != Phase::frozen && !mine && mayFreeze(report, rules))
        return {Does::takesEstimate, estimate(report, rules.eachSide)};
    return {now.held ? Does::keepsHeld : Does::staysAsRecorded, now.held};
}

void Follow::freeze(const Report& report, const FollowRules& rules)
{
    if (now.phase == Phase::frozen) return;
    const auto plan = freezePlan(report, rules);
    auto before = now;
    before.phase = Phase::measuring; // undo melts it
    steps.remember("freezing", before);
    if (plan.does == FreezePlan::Does::takesEstimate)
        hold(*plan.sides, std::make_shared<const Report>(report)); // the finest figure yet
    else
        keepBeside(report);
    now.phase = Phase::frozen;
}

bool Follow::apply(const Report& report, const FollowRules& rules)
{
    const auto found = estimate(report, rules.eachSide);
    if (!found || !canBeApplied(*found, rules.lookAhead)) return false;
    steps.remember("applying", comeBack());
    hold(*found, std::make_shared<const Report>(report));
    now.phase = Phase::frozen;
    return true;
}

bool Follow::takeOffer()
{
    if (!offered) return false;
    const auto taken = *offered;
    steps.remember("applying the offered lag", comeBack());
    hold(taken.sides, taken.from);
    now.phase = Phase::frozen;
    return true;
}

void Follow::dismissOffer()
{
    if (offered) dismissed = offered->sides;
    offered.reset();
}

void Follow::setByHand(const Sides& wanted, const std::string& what, bool sameGesture)
{
    if (!sameGesture || !steps.canUndo()) steps.remember(what, comeBack());
    now = {Phase::frozen, wanted, true, 0.0, {}, now.told};
}

void Follow::keepBeside(const Report& report)
{
    const bool saysSomething = report.hitsFound > 0 || report.input != InputState::good;
    // What is held and measured keeps the report it came from.
    const bool taken = now.held && !now.byHand;
    if (saysSomething && !taken) now.told = std::make_shared<const Report>(report);
}

std::optional<Beside> Follow::undo(const Beside& current)
{
    return arrive(steps.undo(now, current));
}

std::optional<Beside> Follow::redo(const Beside& current)
{
    return arrive(steps.redo(now, current));
}

std::optional<Beside> Follow::arrive(std::optional<History<State>::Step> step)
{
    if (!step) return std::nullopt;
    now = step->state;
    if (now.phase == Phase::settled) now.phase = Phase::measuring;
    followed = false;
    offered.reset();
    dismissed.reset();
    return step->beside;
}

void Follow::restore(const State& saved, const History<State>& savedHistory)
{
    now = saved;
    // A reopened session sounds as it was left: what is held is frozen, also where it was being followed or measured
    // again. What was heard is not saved.
    now.phase = now.held || now.phase == Phase::frozen ? Phase::frozen : Phase::measuring;
    steps = savedHistory;
    followed = false;
    offered.reset();
    dismissed.reset();
}

void Follow::replace(const State& wanted, const std::string& what, const Beside& beside)
{
    steps.remember(what, comeBack(), beside);
    restore(wanted, steps);
}

Follow::State Follow::comeBack() const
{
    auto state = now;
    // Going back to something held means holding it, even if it was being measured again.
    state.phase = now.held || now.phase == Phase::frozen ? Phase::frozen : Phase::measuring;
    return state;
}

void Follow::hold(const Sides& found, std::shared_ptr<const Report> from)
{
    now.held = found;
    now.byHand = false;
    now.confidence = from->confidence;
    now.verdict = from->verdict;
    now.told = std::move(from);
    offered.reset();
    dismissed.reset();
}
} // namespace tarry
