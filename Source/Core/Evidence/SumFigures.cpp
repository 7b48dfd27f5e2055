#include "Core/Evidence/SumFigures.h"

#include "Core/Ground/Bands.h"

#include <algorithm>
#include <cmath>

namespace tarry
{
namespace
{
constexpr double attackSeconds = 0.010; // of the sum
constexpr double lowSeconds = 0.060;    // of the low band
constexpr double lowEdge = 250.0;       // Hz
constexpr double headSeconds = 0.001;   // ahead of the attack: its onset is found to a millisecond

/// A full cancellation is 100 dB down, not no change; silence against silence is none.
double decibels(double a, double b)
{
    constexpr double least = 1e-10;
    if (a <= 0.0 && b <= 0.0) return 0.0;
    return 10.0 * std::log10(std::max(a, least * b) / std::max(b, least * a));
}

/// A hit's low band: as it was kept, or worked out now.
struct Low
{
    Low(std::span<const float> kept, std::span<const float> x, double rate) : values(kept)
    {
        if (!kept.empty()) return;
        made = lowBand(x, rate);
        values = made;
    }
    std::span<const float> values;

private:
    std::vector<float> made;
};

/// Energies of spot, room and their product over a stretch, the spot read `lag` samples earlier.
struct Sums
{
    double spot = 0.0, room = 0.0, both = 0.0;
    template <typename Samples>
    void add(const Samples& s, const Samples& r, int from, int count, int lag, double weight)
    {
        const int size = static_cast<int>(s.size());
        for (int i = from; i < from + count; ++i)
        {
            const double a =
                i - lag >= 0 && i - lag < size ? static_cast<double>(s[static_cast<std::size_t>(i - lag)]) : 0.0;
            const double b = i >= 0 && i < size ? static_cast<double>(r[static_cast<std::size_t>(i)]) : 0.0;
            spot += weight * a * a;
            room += weight * b * b;
            both += weight * a * b;
        }
    }
    [[nodiscard]] double sum(double sign) const { return spot + room + 2.0 * sign * both; }
};
} // namespace

std::vector<float> lowBand(std::span<const float> x, double rate)
{
    Biquad first = Biquad::lowPass(lowEdge, rate), second = first;
    std::vector<float> y;
    y.reserve(x.size());
    for (float v : x) y.push_back(static_cast<float>(second(first(static_cast<double>(v)))));
    return y;
}

BlendFigures judgeBlend(const std::vector<BlendHit>& hits, double rate, double arrival, const Alignment& applied)
{
    const auto samples = [rate](double seconds) { return static_cast<int>(std::lround(seconds * rate)); };
    const int lag = samples(applied.lag), room = samples(arrival);
    const int head = static_cast<int>(headSeconds * rate);
    const auto count = [rate](double seconds) { return static_cast<int>(seconds * rate); };
    Sums asRecorded, aligned, lows;
    for (const BlendHit& hit : hits)
    {
        // Each stretch begins where the earlier of both is heard.
        const int start = hit.onset - head, first = start + std::min(lag, room);
        asRecorded.add(hit.spot, hit.room, start + std::min(0, room), count(attackSeconds), 0, hit.weight);
        aligned.add(hit.spot, hit.room, first, count(attackSeconds), lag, hit.weight);
        lows.add(Low(hit.lowSpot, hit.spot, rate).values, Low(hit.lowRoom, hit.room, rate).values, first,
                 count(lowSeconds), lag, hit.weight);
    }
    const double sign = applied.polarity == Polarity::inverted ? -1.0 : 1.0;
    BlendFigures figures;
    figures.flamBefore = std::abs(arrival);
    figures.flamAfter = std::abs(arrival - applied.lag);
    figures.attackGainDb = decibels(aligned.sum(sign), asRecorded.sum(1.0));
    figures.lowSumNormalDb = decibels(lows.sum(1.0), lows.spot + lows.room);
    figures.lowSumInvertedDb = decibels(lows.sum(-1.0), lows.spot + lows.room);
    return figures;
}

double lowShare(const std::vector<BlendHit>& hits, double rate)
{
    double lowEnergy = 0.0, all = 0.0;
    for (const BlendHit& hit : hits)
    {
        const Low kept(hit.lowSpot, hit.spot, rate);
        const std::span<const float> y = kept.values;
        const int size = static_cast<int>(y.size());
        for (int i = std::max(0, hit.onset); i < std::min(size, hit.onset + static_cast<int>(lowSeconds * rate)); ++i)
        {
            const auto k = static_cast<std::size_t>(i);
            lowEnergy += hit.weight * static_cast<double>(y[k]) * static_cast<double>(y[k]);
            all += hit.weight * static_cast<double>(hit.spot[k]) * static_cast<double>(hit.spot[k]);
        }
    }
    return all > 0.0 ? std::min(1.0, lowEnergy / all) : 0.0;
}

double lowClearDb(const std::vector<BlendHit>& hits, double rate, double lag)
{
    const int count = static_cast<int>(lowSeconds * rate), gap = static_cast<int>(0.005 * rate);
    const int shift = static_cast<int>(std::lround(lag * rate));
    Sums attack, before;
    for (const BlendHit& hit : hits)
    {
        const Low keptSpot(hit.lowSpot, hit.spot, rate), keptRoom(hit.lowRoom, hit.room, rate);
        const std::span<const float> spot = keptSpot.values, room = keptRoom.values;
        attack.add(spot, room, hit.onset + shift, count, shift, hit.weight);
        before.add(spot, room, hit.onset + shift - gap - count, count, shift, hit.weight);
    }
    return std::min(decibels(attack.spot, before.spot + 1e-20), decibels(attack.room, before.room + 1e-20));
}
} // namespace tarry
