#pragma once
#include "Core/Ground/Types.h"

#include <span>
#include <vector>

namespace tarry
{
/// How the sum of spot and room changes: the figures a mixer judges by. dB, seconds.
struct BlendFigures
{
    double flamBefore = 0.0;       ///< s between the attacks in the sum as recorded
    double flamAfter = 0.0;        ///< s between them as applied
    double attackGainDb = 0.0;     ///< energy of the first 10 ms of the summed attack, as applied against as recorded
    double lowSumNormalDb = 0.0;   ///< low sum (below 250 Hz, first 60 ms) against the two added without phase
    double lowSumInvertedDb = 0.0; ///< the same with the spot's polarity turned over
};

/// One hit to judge the blend by: spot and room as recorded, the attack at `onset`.
struct BlendHit
{
    std::span<const float> spot, room;
    int onset = 0;
    double weight = 1.0;
    std::span<const float> lowSpot{}, lowRoom{}; ///< both below 250 Hz, where somebody has them already: see lowBands
};

/// What lies below 250 Hz in each of some channels, all of the same length: fourth-order low-pass. rate: Hz.
[[nodiscard]] std::vector<std::vector<float>> lowBands(const std::vector<std::span<const float>>& channels,
                                                       double rate);

/// How the sum of spot and room changes when the spot waits by `applied.lag` (to the nearest sample: figures in dB do
/// not need more) and the room's arrival lies `arrival` seconds after the spot's. rate: Hz.
[[nodiscard]] BlendFigures judgeBlend(const std::vector<BlendHit>& hits, double rate, double arrival,
                                      const Alignment& applied);

/// Share (0 to 1) of the spot's attack, its first 60 ms, that lies below 250 Hz: is this a low drum?
[[nodiscard]] double lowShare(const std::vector<BlendHit>& hits, double rate);

/// dB by which the low band (below 250 Hz) of the attack stands above the 60 ms before it, in the spot or in the room,
/// whichever is less clear. Hum or a drum that still rings makes a low sum that says nothing.
[[nodiscard]] double lowClearDb(const std::vector<BlendHit>& hits, double rate, double lag);
} // namespace tarry
