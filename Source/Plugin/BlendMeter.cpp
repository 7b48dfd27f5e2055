#include "Plugin/BlendMeter.h"

#include <algorithm>
#include <cmath>

namespace tarry
{
namespace
{
constexpr float soundThreshold = 1.0e-4F; // linear, -80 dB
}

BlendMeter::Side BlendMeter::makeSide(const BlendShape& shape, const ComparedBlends& blends, bool aligned)
{
    Side side{{}, {}, LoudnessMeter(shape.spotChannels, shape.sampleRate)};
    for (std::size_t i = 0; i < side.delays.size(); ++i)
    {
        side.delays[i].prepare(shape.sampleRate, 1, shape.maxDelay, shape.lookAhead);
        const auto recorded = blends.other.value_or(Sides{}).side[i];
        side.delays[i].setAlignment(aligned ? blends.aligned.side[i] : recorded, blends.wholeSamples);
        side.delays[i].jump();
    }
    side.blend.prepare(shape.sampleRate, shape.spotChannels, shape.roomChannels);
    return side;
}

BlendMeter::BlendMeter(const BlendShape& shape, const ComparedBlends& blends)
    : form(shape), roomGain(blends.roomGain), aligned(makeSide(shape, blends, true)),
      recorded(makeSide(shape, blends, false))
{
    for (auto& channel : output) channel.assign(maxFrames, 0.0F);
}

void BlendMeter::add(const float* const* spot, const float* const* room, int frames)
{
    bool sounds = false;
    for (int i = 0; i < form.spotChannels && !sounds; ++i)
        sounds = std::any_of(spot[i], spot[i] + frames, [](float x) { return std::abs(x) > soundThreshold; });
    if (sounds) soundingFrames += frames;
    add(aligned, spot, room, frames);
    add(recorded, spot, room, frames);
}

void BlendMeter::add(Side& side, const float* const* spot, const float* const* room, int frames)
{
    std::array<float*, maxSpotChannels> spotNow{};
    std::array<const float*, maxSpotChannels> roomNow{};
    for (std::size_t i = 0; i < spotNow.size(); ++i)
    {
        spotNow[i] = output[i].data();
        if (static_cast<int>(i) < form.roomChannels) roomNow[i] = room[i];
        if (static_cast<int>(i) >= form.spotChannels) continue;
        std::copy_n(spot[i], frames, spotNow[i]);
        side.delays[i].process(&spotNow[i], frames);
    }
    side.blend.add(spotNow, roomNow, frames, roomGain, true);
    side.meter.add(spotNow.data(), frames);
}

std::optional<LoudnessMatch> BlendMeter::match() const
{
    const auto first = aligned.meter.integrated(), second = recorded.meter.integrated();
    if (!first || !second) return std::nullopt;
    return matchLoudness(*first, *second);
}
} // namespace tarry
