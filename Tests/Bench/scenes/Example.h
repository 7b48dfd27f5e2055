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
struct Example
{
    std::string family, tier;
    std::string name;         ///< scene and seed, or the two files
    unsigned seed = 0;        ///< 0 for recordings
    MeasureSettings settings; ///< rate, channels, reach and whatever the tier needs
    Tracks spot, room;        ///< all of one length
    std::optional<double>
        lag; ///< s, to the room channel that hears first; none where no lag is right (several players, unrelated)
    std::optional<Polarity> polarity;
    std::vector<double> sideLags;    ///< s, of each spot side where they differ: the answer is judged by its own side's
    std::optional<double> louderLag; ///< s, of the player who is louder in the spot than the rest of a section
    std::optional<double> louderDb;  ///< by how much
    double earliest = 0.0;          ///< s: the rivals look from here (at or below 0) on: they are told where it can lie
    std::size_t firstChannel = 0;   ///< the room channel that hears first: the rivals, who know but one, are told
    std::optional<double> driftPpm; ///< how fast the lag grows; none where it does not
    std::vector<double> hitTimes;   ///< s, the player's own hits; empty where not known
};
} // namespace tarry::bench
