#pragma once
#include "Files/SetupPool.h"

#include <functional>

namespace tarry::command
{
/// What shapes a session's measuring and printing, for all its takes.
struct SessionSettings
{
    double reachMs = 80.0;
    double lookAheadMs = 0.0;
    bool wholeSamples = false;
    bool timeStamp = false;
    bool tail = false; ///< prints are as much longer as the spot moves; else as long as their source

    /// All of it as text, to tell whether work done before still holds.
    [[nodiscard]] std::string words() const;
};

/// A take measured, and the hits that serve its setup: the most telling first.
struct TakeWork
{
    MeasuredTake take;
    std::vector<Hit> hits;
};

/// Measures one line of a plan on its own. onward: called with the seconds heard so far; may throw to stop. Throws
/// InputError. Memory does not grow with the take's length.
[[nodiscard]] TakeWork measureTake(const PlanRow& planned, const SessionSettings& settings,
                                   const std::function<void(double)>& onward);

/// The row with what the plan says of it.
void fillFromPlan(MeasuredTake& take, const PlanRow& planned);
} // namespace tarry::command
