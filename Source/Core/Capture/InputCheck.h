#pragma once
#include "Core/Evidence/AnalysisWindow.h"
#include "Core/Ground/Types.h"

#include <span>

namespace tarry
{
/// Is there something to measure in this hit, or is it a routing mistake? Looks at every spot and room channel.
[[nodiscard]] InputState checkInputs(const AnalysisWindow& window);

/// Do the tracks merely begin here? Out of digital silence both carry signal from the same moment on: the noise of two
/// recordings starts, nobody plays. A hit out of silence reaches the room later.
[[nodiscard]] bool tracksBegin(const AnalysisWindow& window);

/// Is the room's attack, `lag` seconds after the spot's (to about a sample), the spot's own, later and at another
/// level? Between the fractions of a sample too. A copy by routing leaves less than a thousandth when it is taken away;
/// two microphones, even outdoors, never hear a drum so alike: it is no point, and the air takes its highs.
[[nodiscard]] bool isOwnSignal(std::span<const double> spot, std::span<const double> room, int onset, double lag,
                               double rate);

/// The gain of an electrical leak of the spot into the room: a bare copy at lag zero, before any sound could arrive.
/// 0 where there is none. An honest arrival that early is not mistaken for one: it is louder, or not a bare copy.
[[nodiscard]] double leakGain(std::span<const double> spot, std::span<const double> room, int onset, double rate);
} // namespace tarry
