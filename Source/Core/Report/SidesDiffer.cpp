#include "Core/Report/SidesDiffer.h"

#include "Core/Ground/Text.h"
#include "Core/Report/SideAlignment.h"

#include <cmath>

namespace tarry
{
namespace
{
std::string wordsOf(const Alignment& side)
{
    return shown(side.lag * 1e3, 2) + " ms" + (side.polarity == Polarity::inverted ? ", inverted" : "");
}
} // namespace

std::string sidesDiffer(const Report& report)
{
    const auto one = alignmentOfSide(report, 0, false);
    if (!one) return {};
    const auto left = *alignmentOfSide(report, 0, true), right = *alignmentOfSide(report, 1, true);
    const auto isHeard = [&](const Alignment& side)
    { return side.polarity != one->polarity || std::abs(side.lag - one->lag) > audibleChange; };
    if (!isHeard(left) && !isHeard(right)) return {};
    return "The sides differ: left " + wordsOf(left) + ", right " + wordsOf(right) + ".";
}
} // namespace tarry
