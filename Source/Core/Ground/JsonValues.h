#pragma once
#include <cmath>
#include <nlohmann/json.hpp>
#include <optional>

/// Values as our JSON files and states have them. Header only: the measuring itself needs no JSON.
namespace tarry
{
/// What `encode` makes of a value, or null where there is none.
template <typename Json, typename Value, typename Encode>
[[nodiscard]] Json orNull(const std::optional<Value>& value, const Encode& encode)
{
    return value ? Json(encode(*value)) : Json(nullptr);
}

/// Rounded for reading: nobody needs a decibel's tenth digit.
[[nodiscard]] inline double rounded(double value, int digits)
{
    const double scale = std::pow(10.0, digits);
    return std::round(value * scale) / scale;
}

/// Milliseconds to the nanosecond, and back.
[[nodiscard]] inline double inMs(double seconds)
{
    return std::round(seconds * 1e9) / 1e6;
}
[[nodiscard]] inline double fromMs(double ms)
{
    return std::round(ms * 1e6) / 1e9;
}
} // namespace tarry
