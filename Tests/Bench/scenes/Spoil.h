#pragma once
#include "Example.h"

/// What recordists' equipment does to tracks. In place; peaks stay within full scale unless said.
namespace tarry::bench
{
void addHum(Example& example);   ///< 50 Hz and its odd harmonics, -30 dB below each track's peak, and an offset of 0.05
void clipSpot(Example& example); ///< the spot driven 12 dB into full scale
void gateSpot(Example& example); ///< the spot silent below -30 dB of its peak: opens within 1 ms, closes over 100 ms
void drift(Example& example); ///< the room's clock runs 20 ppm fast: the lag grows; the true one is that amid the hits
} // namespace tarry::bench
