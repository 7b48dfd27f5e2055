#pragma once
#include "Editor/EditorModel.h"

#include <memory>
#include <optional>
#include <span>

namespace tarry
{
/// The waveforms of one hit as the lanes show them: spot and room as recorded, and their sum for any lag.
/// 0 s is the spot's attack.
struct Waves
{
    double rate = 48000.0; ///< Hz
    double start = 0.0;    ///< s, of the first sample
    std::vector<float> spot, room;

    [[nodiscard]] bool isEmpty() const { return spot.empty(); }
    [[nodiscard]] double end() const { return start + static_cast<double>(spot.size()) / rate; }

    /// `hit`: one of the report's, where its waveforms are kept; else, and with -1, the report's best hit.
    /// side and channel: of the pair that is shown.
    static Waves of(const Report&, int hit, int side, int channel);

    /// Spot and room added: the spot waits by the lag (between samples: a straight line, which is enough for the eye).
    [[nodiscard]] std::vector<float> sum(const Alignment& spotAt, double roomGain) const;
};

/// Largest magnitude, linear.
[[nodiscard]] float peakOf(std::span<const float>);

/// The figures of the sum with one side of the spot as it is set and the room as loud as in the blend. None where
/// nothing was measured, or no hit is kept to judge by.
[[nodiscard]] std::optional<BlendFigures> sumFigures(const Report&, int side, const Alignment& asSet, double roomGain);
} // namespace tarry
