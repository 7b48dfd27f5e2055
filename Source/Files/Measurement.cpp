#include "Files/Measurement.h"

#include <cmath>

namespace tarry
{
namespace
{
/// A side goes its own way only where its own lag is as sure as one has to be to settle.
constexpr double sureEnough = 0.9;
} // namespace

double wholeNanoseconds(double seconds)
{
    return std::round(seconds * 1e9) / 1e9;
}

std::vector<Alignment> alignmentOf(const Measurement& measurement)
{
    const Report& report = measurement.report;
    if (!report.lag) return {};
    const Alignment common{wholeNanoseconds(*report.lag), report.polarity.value_or(Polarity::normal)};
    std::vector<Alignment> sides(static_cast<std::size_t>(measurement.spot.channels), common);
    if (!measurement.eachSide) return sides;

    // Of the room channels that hear this side surely, the one it reaches first.
    for (std::size_t i = 0; i < sides.size(); ++i)
    {
        const PairReport* first = nullptr;
        for (const auto& pair : report.pairs)
        {
            const bool ours = pair.spotSide == static_cast<int>(i);
            const bool sure = pair.lag && pair.polarity && pair.confidence >= sureEnough;
            if (ours && sure && (first == nullptr || *pair.lag < *first->lag)) first = &pair;
        }
        if (first != nullptr) sides[i] = {wholeNanoseconds(*first->lag), *first->polarity};
    }
    return sides;
}
} // namespace tarry
