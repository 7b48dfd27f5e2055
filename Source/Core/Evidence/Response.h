#pragma once
#include "Core/Evidence/AnalysisWindow.h"
#include "Core/Ground/Bands.h"
#include "Core/Ground/Fourier.h"
#include "Core/Ground/LagGrid.h"

#include <array>
#include <complex>
#include <map>
#include <span>
#include <vector>

namespace tarry
{
/// One hit's response from spot to room: the cross-spectrum whitened by both smoothed spectra (generalised
/// cross-correlation, Knapp & Carter 1976), each bin weighted by the coherence that its signal-to-noise ratio allows
/// against the moment before the hit. Whitening concerns each channel alone, so it is done once a channel.
class ResponseMeter
{
public:
    explicit ResponseMeter(const LagGrid& grid);

    using Spectrum = std::vector<std::complex<double>>;
    void ofSpot(Spectrum& result, std::span<const double> spot, int onset); ///< whitened, 30 ms of the attack
    void ofRoom(Spectrum& result, std::span<const double> room, int onset); ///< whitened, all lags of the grid

    /// Responses at the grid's lags, one value a sample of the analysis rate, of each band alone: their sum is the
    /// whole response, scaled so that a bare delayed copy gives a peak of about the share of the spectrum that is used
    /// (0 to 1). The bands meet at their edges; the lowest and the highest reach as far as anything is used.
    [[nodiscard]] std::array<std::vector<float>, bandCount> between(const Spectrum& spot, const Spectrum& room);

private:
    [[nodiscard]] const std::vector<double>& fade(int length);
    void copySegment(std::span<const double> x, int from, int frames, int fadeIn, int fadeOut);
    [[nodiscard]] std::vector<double> power(std::span<const double> x, int from, int frames);
    void whiten(Spectrum& out, const std::vector<double>& noise, const std::vector<double>& signal);

    LagGrid grid;
    int segment; // samples of the spot's attack that are used
    Fourier fourier;
    std::map<int, std::vector<double>> fades; // by their length
    int half;                                 // bins to both sides over which spectra are smoothed
};
} // namespace tarry
