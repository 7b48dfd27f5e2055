#pragma once

namespace tarry
{
/// What a mixer turns, as plain SI values: all that the engine sees of the parameters. A plain value, copied per block.
struct Controls
{
    bool bypassed = false;
    bool aligned = true;           ///< the A/B: aligned, or as recorded
    bool freezeWhenSettled = true; ///< hold lag and polarity as soon as they are settled
    double lean = 0.0;             ///< s, -0.02 to 0.03 on top of the lag; positive: the room leads
    bool wholeSamples = false;     ///< the spot passes bit for bit
    bool eachSide = false;         ///< a stereo spot's sides each follow a lag of their own
    bool blend = false;            ///< the room is added to the output, for judging; never in an offline render
    double blendGain = 1.0;        ///< linear gain of the room in the blend
    double reach = 0.080;          ///< s, 0.005 to 0.2: the longest lag looked for
    bool clap = false;             ///< one clap is enough
    int roomChannel = -1;          ///< -1: the first arrival; 0: left, 1: right

    bool operator==(const Controls&) const = default;
};

/// What is set once for an instance, cannot be automated, and is saved. SI.
struct Setup
{
    double lookAhead = 0.0; ///< s, 0 to 0.1: latency told to the host, by which the spot can also move earlier
    /// With look-ahead only: whether the host hands over the room later than the spot by the latency it was told.
    /// Hosts differ. Where a host lines up the tracks at their outputs, a send from the room's track arrives late by
    /// the spot's own latency: so this is on unless somebody turns it off. Without look-ahead it changes nothing.
    bool roomArrivesLate = true;
    double temperature = 20.0; ///< degrees Celsius, for distances only

    bool operator==(const Setup&) const = default;
};
} // namespace tarry
