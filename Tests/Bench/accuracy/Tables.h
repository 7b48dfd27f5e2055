#pragma once
#include "Score.h"

#include <string>
#include <vector>

namespace tarry::bench
{
/// The run in Markdown tables: family by family Tarry beside the goals and GCC-PHAT, then a line for each family, then
/// how well the confidence keeps its word.
[[nodiscard]] std::string tables(const std::vector<TierScore>& scores, const std::vector<Outcome>& outcomes);

/// Every method side by side.
[[nodiscard]] std::string rivalsTable(const std::vector<TierScore>& scores);

/// What was made of a drifting clock; empty where nothing drifted.
[[nodiscard]] std::string driftLine(const std::vector<Outcome>& outcomes);

/// "sure" wrongs and other scenes worth a look: one line for each of Tarry's failures, worst confidence first.
[[nodiscard]] std::string failures(const std::vector<Outcome>& outcomes, std::size_t most);
} // namespace tarry::bench
