#pragma once

namespace tarry
{
/// A lag beside a distance by the tape. What is compared: the lag as a way through air, which is (drum to room
/// microphone) minus (drum to spot), against the tape, which usually runs from microphone to microphone and sometimes
/// from the drum. Either way the lag may be shorter than the tape by some of the spot's own distance from the drum, but
/// not longer. A tape tells a wrong peak from the right one; it is no measurement of the lag.
struct TapeCheck
{
    double metres = 0.0;     ///< by the tape
    double expected = 0.0;   ///< s that sound needs for them in dry air of the given temperature
    double difference = 0.0; ///< s, lag minus expected: positive = the lag is longer
    double shorter = 0.0;    ///< s by which the lag may be shorter
    double longer = 0.0;     ///< s by which it may be longer
    bool agrees = false;
};

/// What air, tape and the spot's place allow (see Tape.cpp for the figures). lag: s; metres > 0; celsius: of the air.
[[nodiscard]] TapeCheck checkTape(double lag, double metres, double celsius);
} // namespace tarry
