#include "Core/Evidence/SumFigures.h"

#include "Core/Ground/Bands.h"
#include "Core/Ground/Lanes.h"

#include <algorithm>
#include <array>
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
        made = lowBands({x}, rate);
        values = made.front();
    }
    std::span<const float> values;

private:
    std::vector<std::vector<float>> made;
};

/// Sum of the products of two stretches. Four sums side by side: one waits on itself.
TARRY_ALSO_FOR_AVX
double product(const float* a, const float* b, int count) noexcept
{
    double sums[4] = {};
    int i = 0;
    for (; i + 4 <= count; i += 4)
        for (int k = 0; k < 4; ++k) sums[k] += static_cast<double>(a[i + k]) * static_cast<double>(b[i + k]);
    for (; i < count; ++i) sums[0] += static_cast<double>(a[i]) * static_cast<double>(b[i]);
    return (sums[0] + sums[1]) + (sums[2] + sums[3]);
}

/// Two biquads (b0, b1, b2, a1, a2) in a row over four channels side by side: each waits on its own last sample.
TARRY_ALSO_FOR_AVX
void lowPass(const double* c, const float* const* x, float* const* y, std::size_t count) noexcept
{
    Lanes first1{}, first2{}, second1{}, second2{};
    for (std::size_t i = 0; i < count; ++i)
    {
        const Lanes in = {static_cast<double>(x[0][i]), static_cast<double>(x[1][i]), static_cast<double>(x[2][i]),
                          static_cast<double>(x[3][i])};
        const Lanes between = c[0] * in + first1;
        first1 = (c[1] * in + first2) - c[3] * between;
        first2 = c[2] * in - c[4] * between;
        const Lanes out = c[0] * between + second1;
        second1 = (c[1] * between + second2) - c[3] * out;
        second2 = c[2] * between - c[4] * out;
        for (std::size_t lane = 0; lane < 4; ++lane) y[lane][i] = static_cast<float>(out[lane]);
    }
}

/// Energies of spot, room and their product over a stretch, the spot read `lag` samples earlier; beyond the ends there
/// is silence.
struct Sums
{
    double spot = 0.0, room = 0.0, both = 0.0;
    void add(std::span<const float> s, std::span<const float> r, int from, int count, int lag, double weight)
    {
        const int size = static_cast<int>(s.size());
        const int spotFrom = std::max(from, lag), spotTo = std::min(from + count, size + lag);
        const int roomFrom = std::max(from, 0), roomTo = std::min(from + count, size);
        const int bothFrom = std::max(spotFrom, roomFrom), bothTo = std::min(spotTo, roomTo);
        const auto of = [weight](const float* a, const float* b, int stretch)
        { return stretch > 0 ? weight * product(a, b, stretch) : 0.0; };
        spot += of(s.data() + (spotFrom - lag), s.data() + (spotFrom - lag), spotTo - spotFrom);
        room += of(r.data() + roomFrom, r.data() + roomFrom, roomTo - roomFrom);
        both += of(s.data() + (bothFrom - lag), r.data() + bothFrom, bothTo - bothFrom);
    }
    [[nodiscard]] double sum(double sign) const { return spot + room + 2.0 * sign * both; }
};
} // namespace

std::vector<std::vector<float>> lowBands(const std::vector<std::span<const float>>& channels, double rate)
{
    const auto c = Biquad::lowPass(lowEdge, rate).coefficients();
    std::vector<std::vector<float>> lows;
    for (const auto& x : channels) lows.emplace_back(x.size());
    for (std::size_t from = 0; from < channels.size(); from += 4)
    {
        // Where fewer are left, the last is worked out more than once.
        std::array<const float*, 4> in{};
        std::array<float*, 4> out{};
        for (std::size_t lane = 0; lane < 4; ++lane)
        {
            const std::size_t channel = std::min(from + lane, channels.size() - 1);
            in[lane] = channels[channel].data();
            out[lane] = lows[channel].data();
        }
        lowPass(c.data(), in.data(), out.data(), channels.front().size());
    }
    return lows;
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
        const Low low(hit.lowSpot, hit.spot, rate);
        Sums energies;
        energies.add(low.values, hit.spot, hit.onset, static_cast<int>(lowSeconds * rate), 0, hit.weight);
        lowEnergy += energies.spot;
        all += energies.room;
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
