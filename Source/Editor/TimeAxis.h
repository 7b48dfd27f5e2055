#pragma once
#include "Editor/Look.h"

namespace tarry
{
/// A stretch of time laid over a stretch of pixels, with its ticks. Seconds and pixels.
struct TimeAxis
{
    double start = 0.0;  ///< s at the left edge
    double length = 0.0; ///< s
    float left = 0.0F, width = 1.0F;

    [[nodiscard]] float x(double seconds) const
    {
        return left + static_cast<float>((seconds - start) / length) * width;
    }
    [[nodiscard]] double seconds(float px) const { return start + static_cast<double>((px - left) / width) * length; }
    [[nodiscard]] bool contains(double seconds) const { return seconds >= start && seconds <= start + length; }

    /// What a scale along the axis counts.
    struct Scale
    {
        double perUnit = 1e-3; ///< s: of a millisecond, of a second, of the way that sound goes in a metre
        double first = -1e9;   ///< s: nothing is written before it
    };

    /// Seconds between ticks: a round number of units, at least `apart` pixels.
    [[nodiscard]] double tickStep(float apart, double perUnit = 1e-3) const;

    /// Hairlines at the ticks.
    void drawTicks(juce::Graphics&, float top, float bottom) const;
    /// The edge of a rule: marks of `mark` px down from `edge` (up where negative) at the ticks, shorter ones
    /// between.
    void drawRule(juce::Graphics&, float edge, float mark, const Scale&) const;
    /// Labels, centred under their ticks and kept inside the axis; those that would run into `keepOut` are left out.
    void drawLabels(juce::Graphics&, float top, float height, const Scale&, juce::Rectangle<float> keepOut = {}) const;
};
} // namespace tarry
