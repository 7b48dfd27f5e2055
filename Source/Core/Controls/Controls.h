#pragma once

namespace tarry
{
/// What a mixer turns, as plain SI values: all that the engine sees of the parameters. A plain value, copied per block.
/// Ranges, units and words of each stand in the table: SettingTable.h.
struct Controls
{
    bool bypassed = false;
    bool aligned = true;           ///< the A/B: aligned, or as recorded
    bool measure = true;           ///< the host's switch: on asks for measuring, off for freezing; follows the phase
    bool freezeWhenSettled = true; ///< hold lag and polarity as soon as they are settled
    double lean = 0.0;             ///< s on top of the lag; positive: the room leads
    bool wholeSamples = false;     ///< the spot passes bit for bit
    bool eachSide = false;         ///< a stereo spot's sides each follow a lag of their own
    bool blend = false;            ///< the room is added to the output, for judging; never in an offline render
    double blendGain = 1.0;        ///< linear gain of the room in the blend
    double reach = 0.080;          ///< s: the longest lag looked for
    bool clap = false;             ///< one clap is enough
    int roomChannel = -1;          ///< -1: the first arrival; else this channel of the room, from 0
    bool lock = false;             ///< no measuring and no change, while recording
    bool levelMatched = false;     ///< both sides of the A/B equally loud, where the blend is on
    bool compareLags = false;      ///< the A/B is between two lags: what is held, and the one measured beside it

    bool operator==(const Controls&) const = default;
};

/// What is set once for an instance, cannot be automated, and is saved. SI.
struct Setup
{
    double lookAhead = 0.0; ///< s: latency told to the host, by which the spot can also move earlier
    /// With look-ahead only: whether the host hands over the room later than the spot by the latency it was told.
    /// Hosts differ. Where a host lines up the tracks at their outputs, a send from the room's track arrives late by
    /// the spot's own latency: so this is on unless somebody turns it off. Without look-ahead it changes nothing.
    bool roomArrivesLate = true;
    double temperature = 20.0;       ///< degrees Celsius, for distances only
    double tape = 0.0;               ///< m from spot to room microphone by the tape; 0: nobody taped it
    bool watch = true;               ///< frozen, go on comparing, and say when the held lag no longer fits
    bool lockWhileRecording = false; ///< the lock is on by itself while the host records

    bool operator==(const Setup&) const = default;
};
} // namespace tarry
