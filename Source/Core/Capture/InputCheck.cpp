#include "Core/Capture/InputCheck.h"

#include "Core/Ground/Lanes.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>

namespace tarry
{
namespace
{
constexpr double silentEnergy = 1e-11;  // mean square, -110 dBFS: below any microphone's noise
constexpr double digitalSilence = 1e-7; // -140 dBFS: below a bit of 24; thinning spreads a start by less
constexpr double sameEnough = 0.9995;   // correlation at lag zero that no two microphones reach
constexpr double copySeconds = 0.020;   // s of the attack that are compared
constexpr double copyLeaves = 1e-6;     // of the energy, -60 dB: what a copy may leave when it is taken away
constexpr int copyTaps = 24;            // a copy between the samples is spread over so many on both sides
constexpr double leakLoudest = 0.2;     // -14 dB: louder is no leak
constexpr double leakEnough = 0.35;     // correlation at lag zero
constexpr double leakSeconds = 0.003;   // s after the attack; sound travels a metre in it
constexpr double leakAround = 0.004;    // s to both sides in which nothing else may correlate as well
constexpr double leakLead = 0.8;        // as well: this share of the correlation at lag zero
constexpr double leakDoubt = 0.2;       // and so much more than the attack with itself

/// Correlation of s and r over their whole length; they have to be equally long.
double correlation(std::span<const double> s, std::span<const double> r)
{
    double spot = 0.0, room = 0.0, both = 0.0;
    for (std::size_t i = 0; i < s.size(); ++i)
    {
        spot += s[i] * s[i];
        room += r[i] * r[i];
        both += s[i] * r[i];
    }
    return both / (std::sqrt(spot * room) + 1e-30);
}

/// Second differences of x from sample `from` on: what is left is bright, so that a copy shows at one lag alone and
/// neither hum nor a ringing drum looks like one. Zero beyond the ends.
std::vector<double> sharpened(std::span<const double> x, int from, int count)
{
    const auto at = [&](int i)
    { return i < 0 || i >= static_cast<int>(x.size()) ? 0.0 : x[static_cast<std::size_t>(i)]; };
    std::vector<double> y;
    y.reserve(static_cast<std::size_t>(count));
    for (int i = from; i < from + count; ++i) y.push_back(at(i + 1) - 2.0 * at(i) + at(i - 1));
    return y;
}

/// Adds `weight` times as many values of x to `sum`.
TARRY_ALSO_FOR_AVX
void addTo(double* sum, const double* x, std::size_t count, double weight) noexcept
{
    for (std::size_t i = 0; i < count; ++i) sum[i] += weight * x[i];
}
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
            if (std::abs(correlation(spot, room)) > sameEnough) return InputState::sameSignal;
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

bool isOwnSignal(std::span<const double> spot, std::span<const double> room, int onset, double lag, double rate)
{
    // Both through the same gentle low-pass, so that what is compared lies where any fractional delay is exact; and
    // differenced, or a low drum's own weight would hide what the air took from its highs.
    const int shift = static_cast<int>(std::lround(lag * rate)), count = static_cast<int>(copySeconds * rate);
    const auto smooth = [&](std::span<const double> x, int from)
    {
        constexpr std::array binomial{1.0,  8.0,  28.0, 56.0, 70.0,
                                      56.0, 28.0, 8.0,  1.0}; // -60 dB from 0.34 of the rate up
        std::vector<double> differences, y(static_cast<std::size_t>(count + 2 * copyTaps), 0.0);
        const auto at = [&](int i)
        { return i < 0 || i >= static_cast<int>(x.size()) ? 0.0 : x[static_cast<std::size_t>(i)]; };
        for (int i = from - 4; i < from + count + 2 * copyTaps + 4; ++i) differences.push_back(at(i) - at(i - 1));
        for (std::size_t k = 0; k < binomial.size(); ++k)
            addTo(y.data(), differences.data() + k, y.size(), binomial[k] / 256.0);
        return y;
    };
    const int from = onset - static_cast<int>(0.001 * rate) - copyTaps;
    const std::vector<double> ours = smooth(spot, from), theirs = smooth(room, from + shift);
    std::vector<double> delayed(static_cast<std::size_t>(count));
    const auto left = [&](double fraction)
    {
        std::array<double, 2 * copyTaps - 1> taps{};
        for (int k = -copyTaps + 1; k < copyTaps; ++k)
        {
            const double t = std::numbers::pi * (k - fraction), w = t / copyTaps;
            const double blackman = 0.42 + 0.5 * std::cos(w) + 0.08 * std::cos(2.0 * w); // -74 dB
            taps[static_cast<std::size_t>(k + copyTaps - 1)] = (std::abs(t) < 1e-12 ? 1.0 : std::sin(t) / t) * blackman;
        }
        std::fill(delayed.begin(), delayed.end(), 0.0);
        for (int k = -copyTaps + 1; k < copyTaps; ++k)
            addTo(delayed.data(), ours.data() + (copyTaps - k), delayed.size(),
                  taps[static_cast<std::size_t>(k + copyTaps - 1)]);
        double spotEnergy = 0.0, roomEnergy = 0.0, both = 0.0;
        for (std::size_t i = 0; i < delayed.size(); ++i)
        {
            const double heard = theirs[i + copyTaps];
            spotEnergy += delayed[i] * delayed[i];
            roomEnergy += heard * heard;
            both += delayed[i] * heard;
        }
        return 1.0 - both * both / (spotEnergy * roomEnergy + 1e-30);
    };
    // Golden section: the remainder has one least value within a sample of the true lag.
    constexpr double golden = 0.6180339887498949;
    double low = -1.0, high = 1.0;
    double a = high - golden * (high - low), b = low + golden * (high - low), atA = left(a), atB = left(b);
    if (std::min({atA, atB, left(0.0)}) > 0.5) return false; // nothing alike here
    for (int round = 0; round < 24; ++round)
    {
        if (atA < atB)
        {
            high = b;
            b = a;
            atB = atA;
            atA = left(a = high - golden * (high - low));
        }
        else
        {
            low = a;
            a = b;
            atA = atB;
            atB = left(b = low + golden * (high - low));
        }
    }
    return std::min(atA, atB) <= copyLeaves;
}

double leakGain(std::span<const double> spot, std::span<const double> room, int onset, double rate)
{
    const int from = onset - static_cast<int>(0.001 * rate);
    const int count = static_cast<int>((0.001 + leakSeconds) * rate), around = static_cast<int>(leakAround * rate);
    const std::vector<double> played = sharpened(spot, from - around, count + 2 * around);
    const std::vector<double> heard = sharpened(room, from - around, count + 2 * around);
    const auto stretch = [&](const std::vector<double>& x, int lag)
    { return std::span(x).subspan(static_cast<std::size_t>(around + lag), static_cast<std::size_t>(count)); };
    const std::span<const double> attack = stretch(played, 0), copy = stretch(heard, 0);
    const double here = std::abs(correlation(attack, copy));
    if (here < leakEnough) return 0.0;
    // A bare copy correlates best at lag zero, to the sample, and elsewhere no more than the attack does with itself;
    // an arrival has a lag of its own.
    for (int lag = -around; lag <= around; ++lag)
    {
        const double itself = std::abs(correlation(attack, stretch(played, lag)));
        const double most = lag == 0 ? 1.0 : std::clamp(itself + leakDoubt, leakLead, 1.0);
        if (std::abs(correlation(attack, stretch(heard, lag))) > most * here) return 0.0;
    }
    double spotEnergy = 0.0, both = 0.0;
    for (std::size_t i = 0; i < attack.size(); ++i)
    {
        spotEnergy += attack[i] * attack[i];
        both += attack[i] * copy[i];
    }
    const double gain = both / (spotEnergy + 1e-30);
    return std::abs(gain) > leakLoudest ? 0.0 : gain;
}
} // namespace tarry
