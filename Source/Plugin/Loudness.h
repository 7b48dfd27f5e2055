#pragma once
#include <optional>
#include <vector>

namespace tarry
{
/// Gated programme loudness (integrated loudness) by ITU-R BS.1770, in LUFS, of 1 or 2 channels of equal length; the
/// two are left and right. rate: Hz. None where nothing passes the gate at -70 LUFS: silence, or shorter than 0.4 s.
/// Allocates. Throws std::invalid_argument for a shape or rate that cannot be measured. [worker]
[[nodiscard]] std::optional<double> integratedLoudness(const std::vector<std::vector<float>>& channels, double rate);

/// Linear gains, neither above 1, that bring two signals to the same loudness: the louder one is turned down.
struct LoudnessMatch
{
    double first = 1.0, second = 1.0;
    double difference = 0.0; ///< LU, first less second, before matching
};
[[nodiscard]] LoudnessMatch matchLoudness(double first, double second);
} // namespace tarry
