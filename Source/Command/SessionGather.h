#pragma once
#include "Command/SessionSetups.h"
#include "Command/SessionStore.h"

namespace tarry::command
{
/// Notes in the store what belongs to the session, for whoever joins the shards.
void keepManifest(const SessionStore& store, const Plan& plan, const SessionSettings& settings,
                  const std::vector<PlannedSetup>& setups);

/// Keeps what a setup found.
void keepSetup(const SessionStore& store, const PlannedSetup& setup, const SessionRecord& record);

/// Joins what all setups of a session found into one record, in the plan's order: the same whether one run made them or
/// many. Throws InputError where `output` holds no session, or some of it is still to be done.
[[nodiscard]] SessionRecord gather(const std::filesystem::path& output);
} // namespace tarry::command
