#pragma once
#include "Core/Ground/Types.h"
#include "Core/Report/Report.h"

#include <optional>
#include <span>
#include <vector>

namespace tarry
{
/// One hit to judge the blend by: spot and room as recorded, the attack at `onset`.
struct BlendHit
{
    std::span<const float> spot, room;
    int onset = 0;
    double weight = 1.0;
};

/// How the sum of spot and room changes when the spot waits by `applied.lag` (to the nearest sample: figures in dB do
/// not need more) and the room's arrival lies `arrival` seconds after the spot's. rate: Hz.
[[nodiscard]] BlendFigures judgeBlend(const std::vector<BlendHit>& hits, double rate, double arrival,
                                      const Alignment& applied);

/// The same for what is applied now, be it measured, by hand or leaning, to one side of the spot: from the kept hits
/// of a report. Cheap enough for every frame of a drag (about 1 ms). None where the report has no lag or kept no hit.
[[nodiscard]] std::optional<BlendFigures> blendAt(const Report& report, int side, const Alignment& applied);

/// Share (0 to 1) of the spot's attack, its first 60 ms, that lies below 250 Hz: is this a low drum?
[[nodiscard]] double lowShare(const std::vector<BlendHit>& hits, double rate);

/// dB by which the low band (below 250 Hz) of the attack stands above the 60 ms before it, in the spot or in the room,
/// whichever is less clear. Hum or a drum that still rings makes a low sum that says nothing.
[[nodiscard]] double lowClearDb(const std::vector<BlendHit>& hits, double rate, double lag);
} // namespace tarry
