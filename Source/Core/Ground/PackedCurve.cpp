#include "Core/Ground/PackedCurve.h"

#include "Core/Ground/Lanes.h"

#include <algorithm>
#include <cassert>
#include <cmath>
#include <limits>

namespace tarry
{
namespace
{
constexpr double most = std::numeric_limits<std::int16_t>::max();

TARRY_ALSO_FOR_AVX
void add(double* sum, const std::int16_t* values, std::size_t count, double weight) noexcept
{
    for (std::size_t i = 0; i < count; ++i) sum[i] += weight * values[i];
}
} // namespace

PackedCurve::PackedCurve(std::span<const float> curve) : values(curve.size())
{
    float largest = 0.0F;
    for (const float x : curve) largest = std::max(largest, std::abs(x));
    if (largest <= 0.0F) return;
    step = static_cast<double>(largest) / most;
    const double perStep = 1.0 / step;
    std::transform(curve.begin(), curve.end(), values.begin(),
                   [perStep](float x)
                   {
                       const double whole = static_cast<double>(x) * perStep;
                       return static_cast<std::int16_t>(whole < 0.0 ? whole - 0.5 : whole + 0.5);
                   });
}

void PackedCurve::addTo(std::span<double> sum, double weight, std::size_t from) const
{
    assert(from + sum.size() <= values.size());
    add(sum.data(), values.data() + from, sum.size(), weight * step);
}
} // namespace tarry
