#pragma once
#include "DryHits.h"
#include "Trial.h"

namespace tarry::bench
{
/// Eight recorded hits of one of the drums, played by a small source in a made-up hall to a spot and a room microphone;
/// everything drawn from the seed. 44.1 kHz. The lag is known; the polarity is the one that the spot was given.
[[nodiscard]] Trial playRecorded(const std::vector<DryDrum>& drums, unsigned seed);
} // namespace tarry::bench
