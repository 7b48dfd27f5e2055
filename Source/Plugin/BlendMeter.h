#pragma once
#include "Core/Delay/Delay.h"
#include "Loudness/Loudness.h"
#include "Plugin/Blend.h"
#include "Plugin/Follow.h"

#include <array>
#include <optional>
#include <vector>

namespace tarry
{
/// What the streams look like. maxDelay, lookAhead: s, as the engine's delays are prepared with.
struct BlendShape
{
    double sampleRate = 48000.0; ///< Hz
    int spotChannels = 1, roomChannels = 0;
    double maxDelay = 0.3, lookAhead = 0.0;
};

/// What a blind trial compares: the aligned side, lean included; the other side is as recorded, or another lag.
/// roomGain: linear.
struct ComparedBlends
{
    Sides aligned;
    bool wholeSamples = false;
    double roomGain = 1.0;
    std::optional<Sides> other{}; ///< none: as recorded

    bool operator==(const ComparedBlends&) const = default;
};

/// Makes both blends of the same stream, as the engine does, and measures how loud each is. [worker]
class BlendMeter
{
public:
    BlendMeter(const BlendShape& shape, const ComparedBlends& blends);

    /// The spot as it comes in, the room as it goes into the blend. frames: at most maxFrames.
    void add(const float* const* spot, const float* const* room, int frames);

    /// s of what has been added in which something sounds.
    [[nodiscard]] double heard() const { return static_cast<double>(soundingFrames) / form.sampleRate; }

    /// Aligned first, as recorded second; none where one of them is too quiet to be measured.
    [[nodiscard]] std::optional<LoudnessMatch> match() const;

    static constexpr int maxFrames = 512;

private:
    struct Side
    {
        std::array<Delay, maxSpotChannels> delays;
        Blend blend;
        LoudnessMeter meter;
    };
    [[nodiscard]] static Side makeSide(const BlendShape& shape, const ComparedBlends& blends, bool aligned);
    void add(Side& side, const float* const* spot, const float* const* room, int frames);

    BlendShape form;
    double roomGain = 1.0;
    Side aligned, recorded;
    std::array<std::vector<float>, maxSpotChannels> output;
    long long soundingFrames = 0;
};
} // namespace tarry
