#pragma once
#include "scenes/Example.h"

#include <optional>

/// Published methods beside which Tarry is measured: simple, whole, as their papers give them.
namespace tarry::bench
{
struct Answer
{
    std::optional<double> lag; ///< s; none where the method finds nothing
    std::optional<Polarity> polarity;
};

/// Both look at spot channel 0 against the room channel that hears first, over the whole file, and take the peak of
/// largest magnitude from Example::earliest to reach, between samples by a parabola; its sign is the polarity.
struct CorrelationAnswers
{
    Answer plain; ///< cross-correlation
    Answer phat;  ///< GCC-PHAT: every bin at magnitude one (Knapp & Carter, IEEE Trans. ASSP 24, 1976)
};
[[nodiscard]] CorrelationAnswers correlate(const Example& example);

/// First break of each hit by AIC (Maeda, Zisin 38, 1985) in spot and in room; the median of the differences.
/// No polarity.
[[nodiscard]] Answer firstBreak(const Example& example);
} // namespace tarry::bench
