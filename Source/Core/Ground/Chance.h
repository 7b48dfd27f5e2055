#pragma once

namespace tarry
{
/// Probability of `successes` or more in `trials` tosses of a coin that falls right with probability `p`, 0 < p < 1.
/// trials: 0 or more; successes beyond that range count as its ends.
[[nodiscard]] double binomialUpperTail(int successes, int trials, double p = 0.5);

/// Two-sided sign test: probability, by chance alone, of a split at least as uneven as `a` against `b`.
[[nodiscard]] double signTest(int a, int b);

/// A share and what it may be as well.
struct ShareInterval
{
    double low = 0.0, high = 1.0;
};

/// The exact 95 % interval of a share (Clopper and Pearson, "The use of confidence or fiducial limits illustrated in
/// the case of the binomial", Biometrika 26, 1934): never narrower than it says. 0 to 1 where there are no trials.
[[nodiscard]] ShareInterval exactInterval(int successes, int trials);
} // namespace tarry
