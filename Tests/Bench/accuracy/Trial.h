#pragma once
#include "Core/Ground/Settings.h"
#include "Core/Ground/Types.h"

#include <optional>
#include <string>
#include <vector>

namespace tarry::bench
{
using Tracks = std::vector<std::vector<float>>; ///< [channel][frame]

/// One pair of tracks to measure, and what is known of them.
struct Trial
{
    std::string tier;
    std::string name;         ///< scene and seed, or the two files
    unsigned seed = 0;        ///< 0 for recordings
    MeasureSettings settings; ///< rate, channels, reach and whatever the tier needs
    Tracks spot, room;        ///< all of one length
    std::optional<double>
        lag; ///< s, to the room channel that hears first; none where no lag is right (ensemble, unrelated)
    std::optional<Polarity> polarity;
    std::size_t firstChannel = 0;   ///< the room channel that hears first: the rivals, who know but one, are told
    std::optional<double> driftPpm; ///< how fast the lag grows; none where it does not
    std::vector<double> hitTimes;   ///< s, the player's own hits; empty where not known
};
} // namespace tarry::bench
