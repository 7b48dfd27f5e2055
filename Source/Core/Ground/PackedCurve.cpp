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
constexpr double mostKept = std::numeric_limits<std::int16_t>::max();

TARRY_ALSO_FOR_AVX
void add(double* sum, const std::int16_t* values, std::size_t count, double weight) noexcept
{
    for (std::size_t i = 0; i < count; ++i) sum[i] += weight * values[i];
}

TARRY_ALSO_FOR_AVX
void add(float* sum, const std::int16_t* values, std::size_t count, float weight) noexcept
{
    for (std::size_t i = 0; i < count; ++i) sum[i] += weight * static_cast<float>(values[i]);
}

/// Eight at a time: one after the other, each waits for the last.
TARRY_ALSO_FOR_AVX
float largestMagnitude(const float* x, std::size_t count) noexcept
{
    float most[8] = {};
    std::size_t i = 0;
    for (; i + 8 <= count; i += 8)
        for (std::size_t k = 0; k < 8; ++k) most[k] = std::abs(x[i + k]) > most[k] ? std::abs(x[i + k]) : most[k];
    for (; i < count; ++i) most[0] = std::max(most[0], std::abs(x[i]));
    return *std::max_element(most, most + 8);
}

TARRY_ALSO_FOR_AVX
void pack(std::int16_t* to, const float* x, std::size_t count, double perStep) noexcept
{
    for (std::size_t i = 0; i < count; ++i)
    {
        const double whole = static_cast<double>(x[i]) * perStep;
        to[i] = static_cast<std::int16_t>(static_cast<int>(whole < 0.0 ? whole - 0.5 : whole + 0.5));
    }
}
} // namespace

PackedCurve::PackedCurve(std::span<const float> curve) : values(curve.size())
{
    const float largest = largestMagnitude(curve.data(), curve.size());
    if (largest <= 0.0F) return;
    step = static_cast<double>(largest) / mostKept;
    pack(values.data(), curve.data(), curve.size(), 1.0 / step);
}

void PackedCurve::addTo(std::span<double> sum, double weight, std::size_t from) const
{
    assert(from + sum.size() <= values.size());
    add(sum.data(), values.data() + from, sum.size(), weight * step);
}

void PackedCurve::addTo(std::span<float> sum, double weight, std::size_t from) const
{
    assert(from + sum.size() <= values.size());
    add(sum.data(), values.data() + from, sum.size(), static_cast<float>(weight * step));
}
} // namespace tarry
