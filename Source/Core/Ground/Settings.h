#pragma once
#include "Core/Ground/Types.h"

namespace tarry
{
/// Everything that shapes a measurement, in SI units. A plain value: copy it freely.
struct MeasureSettings
{
    double sampleRate = 48000.0; ///< Hz, 44100 to 192000
    int spotChannels = 1;        ///< 1 or 2
    int roomChannels = 1;        ///< 1 to maxRoomChannels
    double reach = 0.080;        ///< s, 0.005 to 0.2: the longest lag looked for
    double lookAhead = 0.0;      ///< s, 0 to 0.1: how much earlier than the spot the room may be
    bool clap = false;           ///< one clap or slate at the instrument is enough
    double temperature = 20.0;   ///< degrees Celsius, for distances only
    int roomChannel = -1;        ///< -1: the first arrival among the room's channels; else this channel, from 0

    bool operator==(const MeasureSettings&) const = default;
};
} // namespace tarry
