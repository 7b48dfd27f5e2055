#pragma once
#include <span>

namespace tarry
{
/// Kaiser's shape parameter for a stopband of `attenuationDb` > 50 dB (Kaiser: 0.1102 (A - 8.7)).
[[nodiscard]] double kaiserBeta(double attenuationDb);

/// Modified Bessel function of the first kind, order 0, by its power series: good to double precision for |x| < 30.
[[nodiscard]] double besselI0(double x);

/// Fills `taps` with an interpolator that delays by `delay` samples: a sinc under a Kaiser window that is centred on
/// the delay and reaches half the number of taps to each side, scaled to unity gain at DC (Laakso, Välimäki,
/// Karjalainen, Laine, "Splitting the unit delay", IEEE SPM 1996). Best where `delay` lies in the middle, between
/// taps.size() / 2 - 1 and taps.size() / 2. Never allocates.
void fillSincKernel(std::span<double> taps, double delay, double beta) noexcept;
} // namespace tarry
