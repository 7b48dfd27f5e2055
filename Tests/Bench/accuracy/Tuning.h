#pragma once
#include "Outcome.h"

#include <functional>
#include <string>
#include <vector>

/// Engines with a constant changed or a stage left out. Only in the preset `tune`, which builds the engine from copies
/// whose constants can be changed (see tune/Tunable.h); elsewhere everything here throws std::runtime_error.
namespace tarry::bench
{
/// Leaves a stage out for the rest of the run (Stages.h has the names).
void leaveOut(const std::string& stage);

/// `constant=factor`: scales a constant for the rest of the run.
void scale(const std::string& change);

/// A table: how the figures change with each constant of the engine at 0.7 and 1.4 times its value. The tasks make
/// the examples; they are measured once, and only what comes after a hit's evidence is done again where a constant
/// belongs to that alone. Constants that change nothing are told in one line at the end.
[[nodiscard]] std::string sensitivity(const std::vector<std::function<Example()>>& tasks, unsigned jobs);

/// The same for every stage left out.
[[nodiscard]] std::string ablation(const std::vector<std::function<Example()>>& tasks, unsigned jobs);
} // namespace tarry::bench
