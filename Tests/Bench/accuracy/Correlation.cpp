#include "Core/Ground/Fourier.h"
#include "Rivals.h"

#include <algorithm>
#include <cmath>

namespace tarry::bench
{
namespace
{
using Bins = std::vector<std::complex<double>>;

Bins transform(Fourier& fourier, const std::vector<float>& track)
{
    const auto rest = std::copy(track.begin(), track.end(), fourier.time().begin());
    std::fill(rest, fourier.time().end(), 0.0);
    fourier.forward();
    return {fourier.spectrum().begin(), fourier.spectrum().end()};
}

Answer largestPeak(Fourier& fourier, const Bins& cross, const MeasureSettings& settings, double earliest)
{
    std::copy(cross.begin(), cross.end(), fourier.spectrum().begin());
    fourier.inverse();
    const auto circular = fourier.time();
    const int size = fourier.size();
    const auto at = [&](int lag) { return circular[static_cast<std::size_t>((lag + size) % size)]; };

    const int first = static_cast<int>(earliest * settings.sampleRate);
    const int last = static_cast<int>(settings.reach * settings.sampleRate);
    int best = first;
    for (int lag = first; lag <= last; ++lag)
        if (std::abs(at(lag)) > std::abs(at(best))) best = lag;
    const double peak = at(best);
    if (peak == 0.0) return {};

    const double before = at(best - 1) / peak, after = at(best + 1) / peak;
    const double bend = before - 2.0 + after;
    const double between = bend < 0.0 ? std::clamp(0.5 * (before - after) / bend, -0.5, 0.5) : 0.0;
    return {(best + between) / settings.sampleRate, peak < 0.0 ? Polarity::inverted : Polarity::normal};
}
} // namespace

CorrelationAnswers correlate(const Example& example)
{
    const auto& spot = example.spot.front();
    const auto& room = example.room[example.firstChannel];
    const auto margin = static_cast<int>((example.settings.reach - example.earliest) * example.settings.sampleRate) + 2;
    Fourier fourier(fastSize(static_cast<int>(std::max(spot.size(), room.size())) + margin));

    const auto spotBins = transform(fourier, spot);
    auto cross = transform(fourier, room);
    for (std::size_t k = 0; k < cross.size(); ++k) cross[k] *= std::conj(spotBins[k]);
    auto white = cross;
    for (auto& bin : white) bin = bin == 0.0 ? bin : bin / std::abs(bin);

    return {largestPeak(fourier, cross, example.settings, example.earliest),
            largestPeak(fourier, white, example.settings, example.earliest)};
}
} // namespace tarry::bench
