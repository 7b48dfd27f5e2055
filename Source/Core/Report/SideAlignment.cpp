#include "Core/Report/SideAlignment.h"

#include "Core/Report/Verdict.h"

#include <cmath>

namespace tarry
{
double wholeNanoseconds(double seconds)
{
    return std::round(seconds * 1e9) / 1e9;
}

std::optional<Alignment> alignmentOfSide(const Report& report, int side, bool eachSide)
{
    if (!report.lag) return std::nullopt;
    Alignment alignment{wholeNanoseconds(*report.lag), report.polarity.value_or(Polarity::normal)};
    if (!eachSide) return alignment;
    const PairReport* first = nullptr;
    for (const auto& pair : report.pairs)
    {
        const bool sure = pair.lag && pair.polarity && pair.confidence >= trusted;
        if (pair.spotSide == side && sure && (first == nullptr || *pair.lag < *first->lag)) first = &pair;
    }
    if (first != nullptr) alignment = {wholeNanoseconds(*first->lag), *first->polarity};
    return alignment;
}
} // namespace tarry
