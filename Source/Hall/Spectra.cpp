#include "Hall/Spectra.h"

#include "Core/Delay/SincKernel.h"
#include "Core/Ground/Fourier.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <memory>
#include <numbers>

namespace tarry::hall
{
namespace
{
constexpr int half = 32; // taps on either side of the centre
constexpr int taps = 2 * half;

/// A plan takes longer to make than to run, and a scene needs only a few sizes: each thread keeps its last four.
Fourier& transformOf(std::size_t size)
{
    constexpr std::size_t kept = 4;
    thread_local std::vector<std::unique_ptr<Fourier>> plans; // the latest at the end
    const auto same = [size](const auto& plan) { return plan->size() == static_cast<int>(size); };
    const auto found = std::find_if(plans.begin(), plans.end(), same);
    if (found != plans.end())
        std::rotate(found, found + 1, plans.end());
    else
        plans.push_back(std::make_unique<Fourier>(static_cast<int>(size)));
    if (plans.size() > kept) plans.erase(plans.begin());
    return *plans.back();
}

/// The windowed sinc at `t` samples from its centre, out of a table: 1024 points a sample, straight lines between.
double windowedSinc(double t)
{
    constexpr int steps = 1024;
    static const auto table = []
    {
        const double beta = kaiserBeta(100.0);
        std::array<double, static_cast<std::size_t>(half * steps + 2)> values{};
        for (std::size_t i = 0; i < values.size(); ++i)
        {
            const double x = static_cast<double>(i) / steps;
            const double share = x / half;
            if (share > 1.0) continue;
            const double window = besselI0(beta * std::sqrt(1.0 - share * share)) / besselI0(beta);
            values[i] = window * (x == 0.0 ? 1.0 : std::sin(std::numbers::pi * x) / (std::numbers::pi * x));
        }
        return values;
    }();
    const double place = std::abs(t) * steps;
    const auto index = static_cast<std::size_t>(place);
    if (index + 1 >= table.size()) return 0.0;
    const double fraction = place - static_cast<double>(index);
    return table[index] + fraction * (table[index + 1] - table[index]);
}
} // namespace

std::size_t transformSize(std::size_t atLeast)
{
    std::size_t best = 2;
    while (best < atLeast) best *= 2;
    for (std::size_t five = 1; five < best; five *= 5)
        for (std::size_t three = five; three < best; three *= 3)
            for (std::size_t size = three * 2; size < best; size *= 2)
                if (size >= atLeast) best = std::min(best, size);
    return best;
}

Spectrum spectrumOf(std::span<const double> signal, std::size_t size)
{
    Fourier& fourier = transformOf(size);
    const auto end = std::copy_n(signal.begin(), std::min(size, signal.size()), fourier.time().begin());
    std::fill(end, fourier.time().end(), 0.0);
    fourier.forward();
    return {fourier.spectrum().begin(), fourier.spectrum().end()};
}

std::vector<double> signalOf(const Spectrum& spectrum, std::size_t size)
{
    Fourier& fourier = transformOf(size);
    std::copy(spectrum.begin(), spectrum.end(), fourier.spectrum().begin());
    fourier.inverse();
    return {fourier.time().begin(), fourier.time().end()};
}

Spectrum minimumPhase(const std::function<double(std::size_t)>& gain, std::size_t size)
{
    Spectrum spectrum(size / 2 + 1);
    for (std::size_t bin = 0; bin < spectrum.size(); ++bin) spectrum[bin] = std::log(gain(bin));
    std::vector<double> cepstrum = signalOf(spectrum, size);
    for (std::size_t i = 1; i < size / 2; ++i) cepstrum[i] *= 2.0;
    std::fill(cepstrum.begin() + static_cast<std::ptrdiff_t>(size / 2 + 1), cepstrum.end(), 0.0);
    spectrum = spectrumOf(cepstrum, size);
    for (auto& bin : spectrum) bin = std::exp(bin);
    return spectrum;
}

double loudness(const Spectrum& spectrum, double binWidth)
{
    double sum = 0.0;
    for (std::size_t bin = 0; bin < spectrum.size(); ++bin)
    {
        const double f2 = std::pow(binWidth * static_cast<double>(bin), 2.0);
        const double high = 12194.0 * 12194.0;
        const double weight =
            high * f2 * f2 /
            ((f2 + 20.6 * 20.6) * (f2 + high) * std::sqrt((f2 + 107.7 * 107.7) * (f2 + 737.9 * 737.9)));
        sum += std::norm(spectrum[bin]) * weight * weight;
    }
    return sum;
}

void addAt(std::vector<double>& target, std::span<const double> signal, double position, double gain)
{
    const double whole = std::floor(position);
    const double fraction = position - whole;
    std::array<double, taps> kernel{};
    for (int i = 0; i < taps; ++i) kernel[static_cast<std::size_t>(i)] = gain * windowedSinc(i - (half - 1) - fraction);

    const auto start = static_cast<std::ptrdiff_t>(whole) - (half - 1);
    const auto end = static_cast<std::ptrdiff_t>(target.size());
    const auto length = static_cast<std::ptrdiff_t>(signal.size());
    for (std::ptrdiff_t tap = 0; tap < taps; ++tap)
    {
        const double weight = kernel[static_cast<std::size_t>(tap)];
        const std::ptrdiff_t first = start + tap;
        const std::ptrdiff_t from = std::max<std::ptrdiff_t>(0, -first);
        const std::ptrdiff_t to = std::min(length, end - first);
        for (std::ptrdiff_t i = from; i < to; ++i)
            target[static_cast<std::size_t>(first + i)] += weight * signal[static_cast<std::size_t>(i)];
    }
}
} // namespace tarry::hall
