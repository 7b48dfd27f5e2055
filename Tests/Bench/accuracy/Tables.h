#pragma once
#include "Score.h"

#include <string>
#include <vector>

namespace tarry::bench
{
/// The run in Markdown tables: Tarry by tier beside the goals, the rivals, calibration.
[[nodiscard]] std::string tables(const std::vector<TierScore>& scores, const Calibration& withLag,
                                 const Calibration& all);

/// What was made of a drifting clock; empty where nothing drifted.
[[nodiscard]] std::string driftLine(const std::vector<Outcome>& outcomes);

/// "sure" wrongs and other scenes worth a look: one line for each of Tarry's failures, worst confidence first.
[[nodiscard]] std::string failures(const std::vector<Outcome>& outcomes, std::size_t most);
} // namespace tarry::bench
