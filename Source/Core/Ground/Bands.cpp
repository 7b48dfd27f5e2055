#include "Core/Ground/Bands.h"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace tarry
{
namespace
{
struct Cookbook
{
    double cosine, alpha;
    Cookbook(double hz, double sampleRate)
    {
        const double w = 2.0 * std::numbers::pi * hz / sampleRate;
        cosine = std::cos(w);
        alpha = std::sin(w) / std::numbers::sqrt2; // sin(w) / (2 Q), Q = 1 / sqrt(2)
    }
};
} // namespace

Biquad Biquad::highPass(double hz, double sampleRate)
{
    const Cookbook c(hz, sampleRate);
    const double a0 = 1.0 + c.alpha;
    Biquad q;
    q.b0 = q.b2 = (1.0 + c.cosine) / 2.0 / a0;
    q.b1 = -(1.0 + c.cosine) / a0;
    q.a1 = -2.0 * c.cosine / a0;
    q.a2 = (1.0 - c.alpha) / a0;
    return q;
}

Biquad Biquad::lowPass(double hz, double sampleRate)
{
    const Cookbook c(hz, sampleRate);
    const double a0 = 1.0 + c.alpha;
    Biquad q;
    q.b0 = q.b2 = (1.0 - c.cosine) / 2.0 / a0;
    q.b1 = (1.0 - c.cosine) / a0;
    q.a1 = -2.0 * c.cosine / a0;
    q.a2 = (1.0 - c.alpha) / a0;
    return q;
}

BandFilter::BandFilter(const Band& band, double sampleRate)
    : high(Biquad::highPass(band.low, sampleRate)),
      low(Biquad::lowPass(std::min(band.high, 0.45 * sampleRate), sampleRate))
{
}
} // namespace tarry
