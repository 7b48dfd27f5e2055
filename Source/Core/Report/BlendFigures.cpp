#include "Core/Report/BlendFigures.h"

#include <algorithm>

namespace tarry
{
std::optional<BlendFigures> blendAt(const Report& report, int side, const Alignment& applied)
{
    if (!report.lag) return std::nullopt;
    const auto channel = static_cast<std::size_t>(report.roomChannel);
    std::vector<BlendHit> hits;
    double rate = 0.0;
    for (const HitReport& hit : report.hits)
    {
        if (!hit.used || !hit.waves) continue;
        rate = hit.waves->rate;
        const std::size_t spot = std::min(static_cast<std::size_t>(side), hit.waves->spot.size() - 1);
        hits.push_back({hit.waves->spot[spot], hit.waves->room[channel], hit.waves->onset, hit.weight, {}, {}});
        if (hit.waves->lowSpot.empty()) continue;
        hits.back().lowSpot = hit.waves->lowSpot[spot];
        hits.back().lowRoom = hit.waves->lowRoom[channel];
    }
    if (hits.empty()) return std::nullopt;
    return judgeBlend(hits, rate, *report.lag, applied);
}
} // namespace tarry
