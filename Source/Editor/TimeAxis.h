#pragma once
#include "Editor/Look.h"

#include <cmath>

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
    [[nodiscard]] double tickStep(float apart) const
    {
        const double least = static_cast<double>(apart / width) * length;
        const double decade = std::pow(10.0, std::floor(std::log10(least)));
        for (const double times : {1.0, 2.0, 5.0})
            if (decade * times >= least) return decade * times;
        return decade * 10.0;
    }

    /// Labels in ms, centred under their ticks and kept inside the axis.
    void drawLabels(juce::Graphics& g, float top, float height, const juce::Font& font) const
    {
        g.setFont(font);
        const double step = tickStep(44.0F);
        for (double t = std::ceil(start / step) * step; t <= start + length; t += step)
        {
            const auto text = juce::String(juce::roundToInt(t * 1e3)).replace("-", juce::String::charToString(0x2212));
            const auto w = font.getStringWidthFloat(text) + 2.0F;
            const auto at = juce::jlimit(left, left + width - w, x(t) - w * 0.5F);
            Look::write(g, text, juce::Rectangle<float>(at, top, w, height), juce::Justification::centred);
        }
    }
};
} // namespace tarry
