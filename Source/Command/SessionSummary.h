#pragma once
#include "Command/SessionRun.h"
#include "Files/SessionRecord.h"

namespace tarry::command
{
/// What a session came to, for the terminal: what wants an ear, each setup's lag, clocks.
[[nodiscard]] std::string summaryOf(const SessionRecord& record);

/// What was done just now: how many takes and prints, how fast.
[[nodiscard]] std::string workText(const SessionOutcome& outcome);
} // namespace tarry::command
