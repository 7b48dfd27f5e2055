#pragma once
#include "Editor/TimeAxis.h"

#include <span>

namespace tarry
{
/// A waveform laid over a lane: for each pixel its least and its largest sample, so that nothing vanishes when zoomed
/// out; a line through the samples when zoomed in.
class WavePath
{
public:
    /// samples[0] lies at `start` seconds; the lane's middle is 0, `unit` its upper edge.
    WavePath(std::span<const float> samples, double start, double rate, const TimeAxis& axis,
             juce::Rectangle<float> lane, float unit);

    void fill(juce::Graphics&, juce::Colour) const; ///< from the middle line
    void outline(juce::Graphics&, juce::Colour, float width) const;
    void dashed(juce::Graphics&, juce::Colour, float width) const;

private:
    [[nodiscard]] juce::Path line() const;

    std::vector<juce::Point<float>> tops, bottoms;
    float middle;
};
} // namespace tarry
