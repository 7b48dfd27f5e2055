#pragma once
#include "Core/Report/Drift.h"
#include "Files/SetupPool.h"

namespace tarry
{
/// What the takes at one place say together.
struct PooledPlace
{
    std::string name; ///< as SetupRecord::name
    LagFigures figures;
    double lag = 0.0; ///< s: of the figures where they rule, else the middle of its takes' own
    bool byClap = false;
    bool rules = false; ///< its lag holds for all its takes: it is sure, rests on several takes or a clap, clocks agree
    int takes = 0, takesAgreeing = 0;
};

/// How a take came to another place than those before it.
struct ComeTo
{
    Moved moved;
    bool first = false; ///< this is the take to listen to: the first at the new place
};

/// The row as it goes into the sheet: which lag holds and why, what is done, what wants an ear. machines: the clocks
/// of the pair, where they were compared. planned: when the plan was changed.
[[nodiscard]] SessionRow outcomeOf(const MeasuredTake& take, const PooledPlace& place,
                                   const std::optional<ComeTo>& comeTo, const std::optional<Drift>& clocks,
                                   const std::string& planned);

/// "cue 7, take 2"
[[nodiscard]] std::string takeName(const std::string& cue, const std::string& take);

/// A figure in ms for a sentence, with two decimals and its unit.
[[nodiscard]] std::string msText(double seconds);
} // namespace tarry
