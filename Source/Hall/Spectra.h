#pragma once
#include <complex>
#include <cstddef>
#include <functional>
#include <span>
#include <vector>

/// Spectra of whole signals and signals put at fractional times. Allocates; for any thread but the audio thread.
namespace tarry::hall
{
using Spectrum = std::vector<std::complex<double>>; ///< bins 0 to size / 2 of a real signal

/// The smallest size of at least `atLeast` that is even and has no prime factor above 5.
[[nodiscard]] std::size_t transformSize(std::size_t atLeast);

/// The transform of `signal`, filled up with zeros to `size`.
[[nodiscard]] Spectrum spectrumOf(std::span<const double> signal, std::size_t size);

/// Back again, scaled so that signalOf(spectrumOf(x, n), n) is x.
[[nodiscard]] std::vector<double> signalOf(const Spectrum& spectrum, std::size_t size);

/// The causal, minimum-phase response of the magnitude `gain(bin)`, above 0, for transforms of `size`
/// (folded cepstrum: Oppenheim and Schafer, Discrete-Time Signal Processing, chapter on the complex cepstrum).
[[nodiscard]] Spectrum minimumPhase(const std::function<double(std::size_t)>& gain, std::size_t size);

/// Energy as the ear weighs it: A-weighting (IEC 61672-1, poles at 20.6, 107.7, 737.9 and 12194 Hz). By plain energy a
/// low drum that is 6 dB stronger would drown under its neighbour. binWidth: Hz.
[[nodiscard]] double loudness(const Spectrum& spectrum, double binWidth);

/// Adds `gain` times `signal` to `target`, beginning at the fractional `position` (in samples), by a windowed sinc:
/// 64 taps, Kaiser window of beta 10.06 (100 dB). What falls outside `target` is lost.
void addAt(std::vector<double>& target, std::span<const double> signal, double position, double gain);
} // namespace tarry::hall
