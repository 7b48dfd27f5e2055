#include "Core/InputCheck.h"

#include <algorithm>
#include <cmath>

namespace tarry
{
namespace
{
constexpr double silentEnergy = 1e-11;  // mean square, -110 dBFS: below any microphone's noise
constexpr double digitalSilence = 1e-7; // -140 dBFS: below a bit of 24; thinning spreads a start by less
constexpr double sameEnough = 0.9995;   // correlation at lag zero that no two microphones reach
constexpr double leakLoudest = 0.2;     // -14 dB: louder is no leak
constexpr double leakEnough = 0.5;      // correlation at lag zero
constexpr double leakSeconds = 0.003;   // after the attack; sound travels a metre in it

struct Products
{
    double spot = 0.0, room = 0.0, both = 0.0;
    Products(std::span<const double> s, std::span<const double> r, int from, int to, int lag = 0)
    {
        const int size = static_cast<int>(std::min(s.size(), r.size()));
        for (int i = std::max(0, from); i < std::min(size, to); ++i)
        {
            if (i + lag < 0 || i + lag >= size) continue;
            const double a = s[static_cast<std::size_t>(i)], b = r[static_cast<std::size_t>(i + lag)];
            spot += a * a;
            room += b * b;
            both += a * b;
        }
    }
    [[nodiscard]] double correlation() const { return both / (std::sqrt(spot * room) + 1e-30); }
};
} // namespace

InputState checkInputs(const AnalysisWindow& window)
{
    const int size = window.size();
    bool silent = true;
    for (const auto& room : window.room)
    {
        double sum = 0.0;
        for (double x : room) sum += x * x;
        silent = silent && sum / size < silentEnergy;
        for (const auto& spot : window.spot)
            if (std::abs(Products(spot, room, 0, size).correlation()) > sameEnough) return InputState::sameSignal;
    }
    return silent ? InputState::noRoom : InputState::good;
}

bool tracksBegin(const AnalysisWindow& window)
{
    const auto firstSignal = [&](const std::vector<std::vector<double>>& channels)
    {
        int first = window.size();
        for (const auto& x : channels)
        {
            const auto heard = std::find_if(x.begin(), x.end(), [](double v) { return std::abs(v) > digitalSilence; });
            first = std::min(first, static_cast<int>(heard - x.begin()));
        }
        return first;
    };
    const int spot = firstSignal(window.spot), room = firstSignal(window.room);
    const int together = static_cast<int>(0.001 * window.rate), close = static_cast<int>(0.010 * window.rate);
    return spot > 0 && room > 0 && std::abs(spot - room) <= together && std::abs(spot - window.onset) <= close;
}

double leakGain(std::span<const double> spot, std::span<const double> room, int onset, double rate)
{
    const int from = onset - static_cast<int>(0.001 * rate), to = onset + static_cast<int>(leakSeconds * rate);
    const Products now(spot, room, from, to);
    const double gain = now.both / (now.spot + 1e-30);
    const double here = std::abs(now.correlation());
    if (here < leakEnough || std::abs(gain) > leakLoudest) return 0.0;
    // A bare copy correlates best at lag zero to the sample; an arrival has a lag of its own.
    for (int lag : {-3, -2, 2, 3})
        if (std::abs(Products(spot, room, from, to, lag).correlation()) > here) return 0.0;
    return gain;
}
} // namespace tarry
