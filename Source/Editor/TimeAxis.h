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

    /// A round distance between ticks, at least `apart` pixels.
    [[nodiscard]] double tickStep(float apart) const;

    /// Hairlines at the ticks.
    void drawTicks(juce::Graphics&, float top, float bottom) const;
    /// Labels in `perUnit` seconds (ms, s), centred under their ticks and kept inside the axis; those that would run
    /// into `keepOut` are left out.
    void drawLabels(juce::Graphics&, float top, float height, double perUnit = 1e-3,
                    juce::Rectangle<float> keepOut = {}) const;
};
} // namespace tarry
