#pragma once
#include "Core/Ground/Types.h"
#include "Plugin/Fade.h"

#include <array>

namespace tarry
{
/// Adds the room to the spot, for judging only. Its level moves without a click. A stereo room is folded to its mean
/// for a mono spot; a mono room goes to both sides of a stereo one.
class Blend
{
public:
    /// Hz; channels 1 or 2, of the room also 0. Silent until `add` is first called. [setup]
    void prepare(double sampleRate, int spotChannels, int roomChannels) noexcept;

    /// gain: linear, 0 for none; `atOnce`: without a fade. [audio]
    void add(const std::array<float*, maxSpotChannels>& spot, const std::array<const float*, maxSpotChannels>& room,
             int frames, double gain, bool atOnce) noexcept;

    /// Nothing of the room is in it, and nothing is on its way. [audio]
    [[nodiscard]] bool isSilent() const noexcept { return gain.isAt(0.0); }

private:
    Fade gain{0.010}; // s for a change of the gain
    int spots = 1, rooms = 0;
};
} // namespace tarry
