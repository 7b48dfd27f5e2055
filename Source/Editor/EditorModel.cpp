#include "Editor/EditorModel.h"

#include "Core/Delay/Delay.h"

#include <algorithm>
#include <cmath>

namespace tarry
{
Alignment EditorValues::asSet(int side) const
{
    if (!hasLag) return {}; // nothing is applied yet, lean or not
    auto set = held.side[static_cast<std::size_t>(side)];
    // As Delay does it, in samples behind the look-ahead.
    const double latency = std::round(setup.lookAhead * sampleRate);
    double samples = std::max(0.0, latency + (set.lag + controls.lean) * sampleRate);
    if (controls.wholeSamples || samples < Delay::halfLength) samples = std::round(samples);
    set.lag = (samples - latency) / sampleRate;
    return set;
}
} // namespace tarry
