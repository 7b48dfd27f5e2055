#pragma once
#include "Core/Decision/PairDecision.h"
#include "Core/Report/Report.h"

#include <memory>
#include <vector>

namespace tarry
{
/// A hit as it is kept, without its evidence.
struct KeptHit
{
    double time = 0.0;                     ///< s since the stream began
    std::shared_ptr<const HitWaves> waves; ///< null once the hit is older
};

/// Writes into the report what was decided about the pair that the lag is taken from. hits: in the order of the
/// decision's. lookAhead: s, as the measurement was set.
void describe(Report& report, const PairDecision& decision, const std::vector<KeptHit>& hits, const LagGrid& grid,
              double lookAhead);

/// One pair in a line.
[[nodiscard]] PairReport describePair(int side, int channel, const PairDecision& decision);
} // namespace tarry
