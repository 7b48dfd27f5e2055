#pragma once
#include "Core/Evidence/AnalysisWindow.h"
#include "Core/Ground/Bands.h"
#include "Core/Ground/Fourier.h"
#include "Core/Ground/LagGrid.h"

#include <array>
#include <span>
#include <vector>

namespace tarry
{
/// One hit's response from spot to room: the cross-spectrum whitened by both smoothed spectra (generalised
/// cross-correlation, Knapp & Carter 1976), each bin weighted by the coherence that its signal-to-noise ratio allows
/// against the moment before the hit.
class ResponseMeter
{
public:
    explicit ResponseMeter(const LagGrid& grid);

    /// Responses at the grid's lags, one value a sample of the analysis rate, of each band alone: their sum is the
    /// whole response, scaled so that a bare delayed copy gives a peak of about the share of the spectrum that is used
    /// (0 to 1). The bands meet at their edges; the lowest and the highest reach as far as anything is used.
    std::array<std::vector<float>, bandCount> measure(std::span<const double> spot, std::span<const double> room,
                                                      int onset);

private:
    std::vector<double> power(std::span<const double> x, int from, int frames);

    LagGrid grid;
    int segment; // samples of the spot's attack that are used
    Fourier attack, answer;
};
} // namespace tarry
