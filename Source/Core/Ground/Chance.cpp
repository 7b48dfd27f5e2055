#include "Core/Ground/Chance.h"

#include <algorithm>
#include <cmath>

namespace tarry
{
double binomialUpperTail(int successes, int trials, double p)
{
    if (successes <= 0) return 1.0;
    // The terms C(n, k) p^k (1 - p)^(n - k) from the largest k down, so that the small ones are added first; in a scale
    // of their own, since p^n is below the smallest double for a thousand tosses and more.
    const double power = trials * std::log2(p);
    int exponent = static_cast<int>(std::floor(power));
    double term = std::exp2(power - exponent), sum = 0.0;
    constexpr double large = 0x1p500;
    for (int k = trials; k >= successes; --k)
    {
        sum += term;
        term *= static_cast<double>(k) / (trials - k + 1) * ((1.0 - p) / p);
        if (term < large) continue;
        term /= large;
        sum /= large;
        exponent += 500;
    }
    return std::min(1.0, std::ldexp(sum, exponent));
}

double signTest(int a, int b)
{
    return std::min(1.0, 2.0 * binomialUpperTail(std::max(a, b), a + b));
}

namespace
{
/// The smallest share that still gives `successes` or more in 2.5 % of all cases, to the last bit: the tail grows with
/// the share.
double lowEnd(int successes, int trials)
{
    if (successes <= 0) return 0.0;
    double low = 0.0, high = 1.0;
    while (true)
    {
        const double middle = 0.5 * (low + high);
        if (middle <= low || middle >= high) return middle;
        (binomialUpperTail(successes, trials, middle) < 0.025 ? low : high) = middle;
    }
}
} // namespace

ShareInterval exactInterval(int successes, int trials)
{
    return {lowEnd(successes, trials), 1.0 - lowEnd(trials - successes, trials)};
}
} // namespace tarry
