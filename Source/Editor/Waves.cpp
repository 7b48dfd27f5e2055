#include "Editor/Waves.h"

#include "Core/Report/BlendFigures.h"

#include <algorithm>
#include <cmath>

namespace tarry
{
namespace
{
template <typename All>
const auto& nth(const All& all, int index)
{
    return all[std::min(static_cast<std::size_t>(std::max(0, index)), all.size() - 1)];
}

bool isShown(const HitReport& hit)
{
    return hit.waves && !hit.waves->spot.empty() && !hit.waves->room.empty();
}
} // namespace

Waves Waves::of(const Report& report, int hit, int side, int channel)
{
    Waves shown;
    if (hit >= 0 && hit < static_cast<int>(report.hits.size()))
        if (const auto& kept = report.hits[static_cast<std::size_t>(hit)]; isShown(kept))
        {
            shown.rate = kept.waves->rate;
            shown.start = -kept.waves->onset / kept.waves->rate;
            shown.spot = nth(kept.waves->spot, side);
            shown.room = nth(kept.waves->room, channel);
            return shown;
        }
    if (report.spotAttack.values.empty() || report.spotAttack.step <= 0.0) return shown;
    shown.rate = 1.0 / report.spotAttack.step;
    shown.start = report.spotAttack.start;
    shown.spot = report.spotAttack.values;
    shown.room = report.roomAttack.values;
    shown.room.resize(shown.spot.size());
    return shown;
}

std::vector<float> Waves::sum(const Alignment& spotAt, double roomGain) const
{
    std::vector<float> both(room.size());
    const double shift = spotAt.lag * rate;
    const auto whole = static_cast<std::int64_t>(std::floor(shift));
    const auto part = static_cast<float>(shift - std::floor(shift));
    const float sign = spotAt.polarity == Polarity::inverted ? -1.0F : 1.0F;
    const auto gain = static_cast<float>(roomGain);
    const auto size = static_cast<std::int64_t>(spot.size());
    const auto at = [&](std::int64_t i) { return i >= 0 && i < size ? spot[static_cast<std::size_t>(i)] : 0.0F; };
    for (std::int64_t i = 0; i < static_cast<std::int64_t>(both.size()); ++i)
        both[static_cast<std::size_t>(i)] = sign * ((1.0F - part) * at(i - whole) + part * at(i - whole - 1)) +
                                            gain * room[static_cast<std::size_t>(i)];
    return both;
}

float peakOf(std::span<const float> samples)
{
    float most = 0.0F;
    for (const float sample : samples) most = std::max(most, std::abs(sample));
    return most;
}

std::optional<BlendFigures> sumFigures(const Report& report, int side, const Alignment& asSet, double roomGain)
{
    if (roomGain == 1.0) return blendAt(report, side, asSet);
    // The same hits with the room as loud as it is wanted.
    Report louder;
    louder.lag = report.lag;
    louder.roomChannel = report.roomChannel;
    const auto scaled = [gain = static_cast<float>(roomGain)](auto& channels)
    {
        for (auto& channel : channels)
            for (auto& sample : channel) sample *= gain;
    };
    for (const auto& hit : report.hits)
    {
        if (!hit.used || !isShown(hit)) continue;
        HitWaves waves = *hit.waves;
        scaled(waves.room);
        scaled(waves.lowRoom);
        louder.hits.push_back(hit);
        louder.hits.back().waves = std::make_shared<const HitWaves>(std::move(waves));
    }
    return blendAt(louder, side, asSet);
}
} // namespace tarry
