#pragma once
#include "Command/SessionTake.h"

namespace tarry::command
{
/// The lines of a plan that share a setup and instrument: one piece of a session's work, never split between machines.
struct PlannedSetup
{
    std::vector<const PlanRow*> rows; ///< in the plan's order
    std::string rowsKey; ///< follows from what the plan says of them, and from all settings; not from the files
    std::string file;    ///< under which its result is kept: "setup-<rowsKey>.json"
};

/// All setups of a plan, in order of their first lines.
[[nodiscard]] std::vector<PlannedSetup> setupsOf(const Plan& plan, const SessionSettings& settings);

/// A share of a session's work: the K-th of N, counted from 1.
struct Shard
{
    std::size_t number = 1, of = 1;
};

/// Those setups that belong to a shard: takes are spread evenly, the same way on every machine.
[[nodiscard]] std::vector<PlannedSetup> shareOf(const std::vector<PlannedSetup>& setups, const Shard& shard);
} // namespace tarry::command
