// The screen's part of the engine: acts, reads, and what is saved.
#include "Core/Ground/Text.h"
#include "Core/Report/SideAlignment.h"
#include "Plugin/Engine.h"

#include <algorithm>
#include <cmath>

namespace tarry
{
template <typename Act>
bool Engine::act(Act does)
{
    const std::scoped_lock guard(followLock);
    if (locked() || !does()) return false;
    publish();
    return true;
}

bool Engine::measure()
{
    return act(
        [this]
        {
            follow.measure();
            startOver();
            unsettledRender.store(false, std::memory_order_relaxed);
            return true;
        });
}

bool Engine::freeze(const Controls& controls)
{
    const auto latest = report();
    return act(
        [&]
        {
            follow.freeze(latest, rulesOf(controls, settings));
            return true;
        });
}

bool Engine::apply(const Controls& controls)
{
    const auto latest = report();
    return act([&] { return follow.apply(latest, rulesOf(controls, settings)); });
}

bool Engine::takeOffer()
{
    return act([this] { return follow.takeOffer(); });
}

bool Engine::dismissOffer()
{
    return act(
        [this]
        {
            follow.dismissOffer();
            return true;
        });
}

bool Engine::setByHand(const Sides& wanted, bool sameGesture)
{
    Sides limited = wanted;
    for (auto& side : limited.side)
        side.lag = std::isfinite(side.lag) ? wholeNanoseconds(std::clamp(side.lag, minLagByHand, maxLagByHand)) : 0.0;
    const auto latest = report();
    return act(
        [&]
        {
            const auto before = follow.held();
            const bool turned = before && before->side[0].lag == limited.side[0].lag;
            if (follow.phase() != Phase::frozen) follow.keepBeside(latest);
            follow.setByHand(limited, turned ? "polarity by hand" : "the lag by hand", sameGesture);
            return true;
        });
}

bool Engine::setLagByHand(double seconds, bool sameGesture)
{
    auto sides = held().value_or(Sides{});
    for (auto& side : sides.side) side.lag = seconds;
    return setByHand(sides, sameGesture);
}

bool Engine::setPolarity(Polarity polarity)
{
    auto sides = held().value_or(Sides{});
    for (auto& side : sides.side) side.polarity = polarity;
    return setByHand(sides);
}

bool Engine::nudge(double seconds)
{
    auto sides = held().value_or(Sides{});
    for (auto& side : sides.side) side.lag += seconds;
    return setByHand(sides);
}

bool Engine::nudgeSamples(int samples)
{
    return nudge(samples / streams.sampleRate);
}

void Engine::remember(const std::string& what, const Beside& beside)
{
    act(
        [&]
        {
            follow.remember(what, beside);
            return true;
        });
}

template <typename Move>
std::optional<Beside> Engine::step(Move move)
{
    std::optional<Beside> beside;
    act(
        [&]
        {
            const auto before = follow.state();
            beside = move();
            // Else the same hits would be taken again at once.
            if (follow.state().held != before.held || follow.phase() != before.phase) startOver();
            return beside.has_value();
        });
    return beside;
}

std::optional<Beside> Engine::undo(const Beside& current)
{
    return step([&] { return follow.undo(current); });
}

std::optional<Beside> Engine::redo(const Beside& current)
{
    return step([&] { return follow.redo(current); });
}

Report Engine::report() const
{
    const bool ready = able.load();
    Report live;
    if (ready) live = measuring.report();
    const std::scoped_lock guard(followLock);
    const auto& told = follow.state().told;
    if (follow.phase() == Phase::frozen) return told ? *told : Report{};
    if (whole) return *whole;
    const bool prevented = !ready && !obstacle.empty(); // else there has been no audio yet: a session that just opened
    if (prevented) live.reasons = {"Tarry cannot measure here: " + obstacle + "."};
    const bool saysNothing = live.hitsFound == 0 && live.input == InputState::good;
    return !prevented && saysNothing && told ? *told : live;
}

void Engine::setMeasuredWhole(std::shared_ptr<const Report> report)
{
    const std::scoped_lock guard(followLock);
    whole = std::move(report);
    isWhole.store(whole != nullptr);
    changes.fetch_add(1, std::memory_order_release);
}

std::optional<Offer> Engine::offer() const
{
    const std::scoped_lock guard(followLock);
    return follow.offer();
}

std::optional<Sides> Engine::otherLag() const
{
    const std::scoped_lock guard(followLock);
    return follow.besideHeld();
}

Follow::FreezePlan Engine::freezePlan(const Controls& controls) const
{
    const auto latest = report();
    const std::scoped_lock guard(followLock);
    return follow.freezePlan(latest, rulesOf(controls, settings));
}

std::string Engine::undoWords() const
{
    const std::scoped_lock guard(followLock);
    return follow.history().undoWords();
}

std::string Engine::redoWords() const
{
    const std::scoped_lock guard(followLock);
    return follow.history().redoWords();
}

// ---------------------------------------------------------------------------------------------------- saved

Follow::State Engine::followState() const
{
    const std::scoped_lock guard(followLock);
    return follow.state();
}

History<Follow::State> Engine::history() const
{
    const std::scoped_lock guard(followLock);
    return follow.history();
}

void Engine::restore(const Follow::State& saved, const History<Follow::State>& steps)
{
    const std::scoped_lock guard(followLock);
    follow.restore(saved, steps);
    request.store(0, std::memory_order_relaxed);
    startOver();
    publish();
}

void Engine::restoreWithUndo(const Follow::State& wanted, const std::string& what, const Beside& beside)
{
    const std::scoped_lock guard(followLock);
    follow.replace(wanted, what, beside);
    request.store(0, std::memory_order_relaxed);
    startOver();
    publish();
}

Setup Engine::setup() const
{
    const std::scoped_lock guard(followLock);
    return settings;
}

bool Engine::setSetup(const Setup& wanted)
{
    const std::scoped_lock guard(followLock);
    const double before = settings.lookAhead;
    settings = wanted;
    settings.lookAhead = std::clamp(settings.lookAhead, 0.0, maxLookAhead);
    roomLate.store(settings.roomArrivesLate, std::memory_order_relaxed);
    latency.store(static_cast<int>(std::lround(settings.lookAhead * rate.load())), std::memory_order_relaxed);
    blindSwitch.setLookAhead(settings.lookAhead);
    lockWhileRecording.store(settings.lockWhileRecording, std::memory_order_relaxed);
    watching.store(settings.watch && follow.phase() == Phase::frozen && follow.held().has_value());
    changes.fetch_add(1, std::memory_order_release);
    return settings.lookAhead != before;
}

std::string lagLimitWords(double seconds)
{
    if (!std::isfinite(seconds)) return "That is no lag.";
    if (seconds > Engine::maxLagByHand) return "The longest is " + shown(1000.0 * Engine::maxLagByHand, 0) + " ms.";
    if (seconds < Engine::minLagByHand) return "The earliest is " + shown(1000.0 * Engine::minLagByHand, 0) + " ms.";
    return {};
}
} // namespace tarry
