#include "Core/Evidence/AnalysisWindow.h"

#include <cmath>
#include <numbers>

namespace tarry
{
namespace
{
/// Low-pass for thinning: windowed sinc (Hann), cut at 0.45 of the new rate, 24 new samples long on each side.
std::vector<double> thinningFilter(int factor)
{
    const int half = 24 * factor; // even, see thin
    std::vector<double> taps(static_cast<std::size_t>(2 * half + 1));
    double sum = 0.0;
    for (int i = -half; i <= half; ++i)
    {
        const double x = 2.0 * 0.45 / factor * i * std::numbers::pi / 1.0;
        const double sinc = i == 0 ? 1.0 : std::sin(x) / x;
        const double window = 0.5 + 0.5 * std::cos(std::numbers::pi * i / (half + 1));
        taps[static_cast<std::size_t>(i + half)] = sinc * window;
        sum += sinc * window;
    }
    for (double& t : taps) t /= sum;
    return taps;
}

std::vector<double> thin(std::span<const float> x, int factor, int first, const std::vector<double>& taps)
{
    const std::size_t half = taps.size() / 2;
    std::vector<double> held(half, static_cast<double>(x.front())); // the ends go on: DC has no step there
    held.insert(held.end(), x.begin(), x.end());
    held.resize(held.size() + half, static_cast<double>(x.back()));
    std::vector<double> y;
    y.reserve(x.size() / static_cast<std::size_t>(factor) + 1);
    for (auto at = static_cast<std::size_t>(first); at < x.size(); at += static_cast<std::size_t>(factor))
    {
        // The filter is symmetric, and two sums run side by side: a third of the time.
        const double* const before = held.data() + at;
        const double* const after = before + 2 * half;
        double even = taps[half] * before[half], odd = 0.0;
        for (std::size_t i = 0; i < half; i += 2)
        {
            even += taps[i] * (before[i] + *(after - i));
            odd += taps[i + 1] * (before[i + 1] + *(after - i - 1));
        }
        y.push_back(even + odd);
    }
    return y;
}
} // namespace

int thinningFor(double sampleRate)
{
    return sampleRate > 128000.0 ? 4 : sampleRate > 64000.0 ? 2 : 1;
}

AnalysisWindow::AnalysisWindow(const Hit& hit)
{
    const int factor = thinningFor(hit.sampleRate);
    const int first = hit.before % factor; // so that the onset stays on a sample
    rate = hit.sampleRate / factor;
    onset = hit.before / factor;
    const auto take = [&](std::span<const float> x)
    {
        if (factor == 1) return std::vector<double>(x.begin(), x.end());
        return thin(x, factor, first, thinningFilter(factor));
    };
    for (int c = 0; c < hit.spotChannels(); ++c) spot.push_back(take(hit.spot(c)));
    for (int c = 0; c < hit.roomChannels(); ++c) room.push_back(take(hit.room(c)));
}
} // namespace tarry
