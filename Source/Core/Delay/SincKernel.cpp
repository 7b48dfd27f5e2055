#include "Core/Delay/SincKernel.h"

#include <cmath>
#include <cstddef>
#include <numbers>

namespace tarry
{
double kaiserBeta(double attenuationDb)
{
    return 0.1102 * (attenuationDb - 8.7);
}

double besselI0(double x)
{
    const double quarter = x * x / 4.0;
    double term = 1.0;
    double sum = 1.0;
    for (int k = 1; term > 1e-17 * sum; ++k)
    {
        term *= quarter / (static_cast<double>(k) * k);
        sum += term;
    }
    return sum;
}

void fillSincKernel(std::span<double> taps, double delay, double beta) noexcept
{
    const double half = static_cast<double>(taps.size()) / 2.0;
    const double base = std::floor(delay);
    const double fraction = delay - base;
    const double sine = std::sin(std::numbers::pi * fraction); // |sin(pi x)| is the same at every tap

    double sum = 0.0;
    for (std::size_t k = 0; k < taps.size(); ++k)
    {
        const double steps = static_cast<double>(k) - base;
        const double x = steps - fraction;
        const double sign = std::fmod(std::abs(steps), 2.0) > 0.5 ? 1.0 : -1.0;
        const double sinc = std::abs(x) < 1e-12 ? 1.0 : sign * sine / (std::numbers::pi * x);
        const double inside = 1.0 - (x / half) * (x / half);
        taps[k] = inside > 0.0 ? sinc * besselI0(beta * std::sqrt(inside)) : 0.0;
        sum += taps[k];
    }
    for (double& tap : taps) tap /= sum;
}
} // namespace tarry
