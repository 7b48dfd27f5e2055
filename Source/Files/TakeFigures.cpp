#include "Files/TakeFigures.h"

#include "Core/Report/SideAlignment.h"

#include <algorithm>
#include <cmath>

namespace tarry
{
namespace
{
constexpr double beforeSpot = 0.005, afterRoom = 0.020; // s
constexpr int columns = 240;

double peakOf(const Curve& curve)
{
    double peak = 1e-9;
    for (const float value : curve.values) peak = std::max(peak, static_cast<double>(std::abs(value)));
    return peak;
}

/// The curve, `lag` s later and turned over if asked, in columns of the picture's axis.
Envelope envelopeOf(const Curve& curve, const AttackPicture& axis, const Alignment& moved)
{
    const double gain = (moved.polarity == Polarity::inverted ? -1.0 : 1.0) / peakOf(curve);
    const auto size = static_cast<int>(curve.values.size());
    Envelope envelope;
    for (int i = 0; i < columns; ++i)
    {
        const double from = axis.start + i * axis.step - moved.lag;
        const int first = std::clamp(static_cast<int>(std::ceil((from - curve.start) / curve.step)), 0, size);
        const int end =
            std::clamp(static_cast<int>(std::ceil((from + axis.step - curve.start) / curve.step)), first, size);
        double low = 0.0, high = 0.0;
        if (first < end)
        {
            const auto [least, most] = std::minmax_element(curve.values.begin() + first, curve.values.begin() + end);
            low = gain * static_cast<double>(gain > 0.0 ? *least : *most);
            high = gain * static_cast<double>(gain > 0.0 ? *most : *least);
        }
        envelope.low.push_back(low);
        envelope.high.push_back(high);
    }
    return envelope;
}
} // namespace

LagFigures figuresOf(const Report& report)
{
    LagFigures figures;
    figures.lag = report.lag;
    figures.polarity = report.polarity.value_or(Polarity::normal);
    figures.verdict = report.verdict;
    figures.confidence = report.confidence;
    figures.reasons = report.reasons;
    figures.hitsFound = report.hitsFound;
    figures.hitsUsed = report.hitsUsed;
    figures.hitsAgreeing = report.hitsAgreeing;
    figures.hitsUnheard = report.hitsUnheard;
    figures.spread = report.spread;
    figures.clearDb = report.clearDb;
    figures.lowSumNormal = report.blend.lowSumNormalDb;
    figures.lowSumInverted = report.blend.lowSumInvertedDb;
    figures.attackGainDb = report.blend.attackGainDb;
    figures.flamBefore = report.blend.flamBefore;
    figures.flamAfter = report.blend.flamAfter;
    figures.driftPpm = report.driftPpm;
    figures.driftPpmSd = report.driftPpmSd;
    return figures;
}

std::optional<AttackPicture> attackPicture(const Report& report, const Alignment& applied)
{
    if (report.spotAttack.values.empty() || report.roomAttack.values.empty()) return std::nullopt;
    AttackPicture picture;
    const double end = std::max(0.0, applied.lag) + afterRoom;
    picture.start = -beforeSpot + std::min(0.0, applied.lag);
    picture.step = wholeNanoseconds((end - picture.start) / columns);
    picture.room = envelopeOf(report.roomAttack, picture, {});
    picture.spotAsRecorded = envelopeOf(report.spotAttack, picture, {});
    picture.spotAligned = envelopeOf(report.spotAttack, picture, applied);
    return picture;
}

std::vector<ClipCut> clipCuts(const Report& report, double seconds)
{
    constexpr std::size_t most = 4;
    constexpr double before = 0.15, after = 1.0; // s
    std::vector<ClipCut> cuts;
    for (const HitReport& hit : report.hits)
    {
        const ClipCut cut{std::max(0.0, hit.time - before), std::min(seconds, hit.time + after)};
        const bool free = cuts.empty() || cut.start >= cuts.back().end;
        if (hit.used && free && cut.end > cut.start) cuts.push_back(cut);
        if (cuts.size() == most) break;
    }
    return cuts;
}
} // namespace tarry
