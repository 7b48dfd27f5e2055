#pragma once
#include <cstdint>

namespace tarry
{
/// `inverted`: the spot's attack pushes where the room's pulls, so the spot has to be turned over.
enum class Polarity
{
    normal,
    inverted
};

/// What to do with the spot. `leave`: it hears several players at several lags. `unsure`: not enough to go by.
enum class Verdict
{
    align,
    leave,
    unsure
};

/// What arrives at the two inputs. Anything but `good` is said and nothing is measured.
enum class InputState
{
    good,
    noRoom,     ///< the room is silent: nothing is connected
    sameSignal, ///< spot and room are the same samples (or the same but for level): a routing mistake
    ownSignal   ///< the room is the spot itself, later: a host sends the output, or another instance's, back here
};

/// Lag and polarity as they are applied. SI: seconds.
struct Alignment
{
    double lag = 0.0; ///< s; positive = the spot is delayed by this much
    Polarity polarity = Polarity::normal;

    bool operator==(const Alignment&) const = default;
};

/// Channel counts that one instance can measure: a stereo spot; a room of up to eight microphones.
inline constexpr int maxSpotChannels = 2;
inline constexpr int maxRoomChannels = 8;
} // namespace tarry
