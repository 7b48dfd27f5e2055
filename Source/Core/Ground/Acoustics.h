#pragma once

/// Speed of sound in air and what follows from it.
namespace tarry
{
/// m/s in dry air at `celsius` (ISO 9613-1: 343.2 sqrt(T / 293.15 K)).
[[nodiscard]] double speedOfSound(double celsius);

/// Metres that sound travels in `seconds` at `celsius`.
[[nodiscard]] double distanceOf(double seconds, double celsius);

/// Seconds that sound needs for `metres` at `celsius`.
[[nodiscard]] double travelTime(double metres, double celsius);

inline constexpr double metresPerFoot = 0.3048;
} // namespace tarry
