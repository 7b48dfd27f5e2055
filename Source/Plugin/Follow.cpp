#include "Plugin/Follow.h"

#include "Core/Report/SideAlignment.h"

#include <algorithm>
#include <cmath>
#include <cstddef>

namespace tarry
{
bool Follow::isSettled(const Report& report, bool clap)
{
    const bool worthAligning = report.input == InputState::good && report.verdict == Verdict::align && report.lag;
    const bool sure = report.confidence >= settledConfidence;
    const bool often = report.hitsAgreeing >= (clap ? 1 : settledHits);
    return worthAligning && sure && often;
}

bool Follow::canBeHeard(const Sides& from, const Sides& to)
{
    for (std::size_t i = 0; i < from.side.size(); ++i)
    {
        const bool turned = from.side[i].polarity != to.side[i].polarity;
        const bool moved = std::abs(from.side[i].lag - to.side[i].lag) > audibleChange;
        if (turned || moved) return true;
    }
    return false;
}

std::optional<Sides> Follow::estimate(const Report& report, bool eachSide)
{
    if (!report.lag) return std::nullopt;
    Sides sides;
    for (std::size_t i = 0; i < sides.side.size(); ++i)
        sides.side[i] = *alignmentOfSide(report, static_cast<int>(i), eachSide);
    return sides;
}

bool Follow::consider(const Report& report, bool clap, bool eachSide, bool freezeWhenSettled)
{
    if (now.phase == Phase::frozen) return false;
    const auto earlier = now;
    const auto found = isSettled(report, clap) ? estimate(report, eachSide) : std::nullopt;
    if (!found)
    {
        now.phase = Phase::measuring;
        return now != earlier;
    }
    if (!followed || !now.held || canBeHeard(*now.held, *found)) accept(*found, report);
    now.phase = freezeWhenSettled ? Phase::frozen : Phase::settled;
    return now != earlier;
}

void Follow::measure()
{
    now.phase = Phase::measuring;
    followed = false;
}

void Follow::freeze(const Report& report, bool clap, bool eachSide)
{
    if (now.phase == Phase::frozen) return;
    if (isSettled(report, clap)) accept(estimate(report, eachSide).value(), report); // the finest figure yet
    now.phase = Phase::frozen;
}

bool Follow::apply(const Report& report, bool eachSide)
{
    const auto found = estimate(report, eachSide);
    if (!found) return false;
    followed = false;
    accept(*found, report);
    now.phase = Phase::frozen;
    return true;
}

void Follow::setByHand(const Sides& wanted, bool sameGesture)
{
    if (!sameGesture || !before) remember();
    now = {.phase = Phase::frozen, .held = wanted, .byHand = true, .confidence = 0.0, .verdict = {}};
}

bool Follow::undo()
{
    if (!before) return false;
    const auto after = now;
    now = *before;
    before = after;
    if (before->phase == Phase::settled) before->phase = Phase::frozen;
    followed = false;
    return true;
}

void Follow::restore(const State& saved, const std::optional<State>& savedBefore)
{
    now = saved;
    // A reopened session sounds as it was left: what is held is frozen, also where it was being followed or measured
    // again. What was heard is not saved.
    now.phase = now.held || now.phase == Phase::frozen ? Phase::frozen : Phase::measuring;
    before = savedBefore;
    followed = false;
}

void Follow::replace(const State& wanted)
{
    remember();
    restore(wanted, before);
}

void Follow::remember()
{
    before = now;
    // Going back to something held means holding it, even if it was being measured again.
    before->phase = now.held ? Phase::frozen : Phase::measuring;
}

void Follow::accept(const Sides& found, const Report& report)
{
    if (!followed) remember();
    followed = true;
    now.held = found;
    now.byHand = false;
    now.confidence = report.confidence;
    now.verdict = report.verdict;
}
} // namespace tarry
