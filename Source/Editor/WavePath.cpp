#include "Editor/WavePath.h"

#include <algorithm>
#include <cmath>

namespace tarry
{
WavePath::WavePath(std::span<const float> samples, double start, double rate, const TimeAxis& axis,
                   juce::Rectangle<float> lane, float unit)
    : middle(lane.getCentreY())
{
    const auto size = static_cast<std::int64_t>(samples.size());
    const float scale = unit > 0.0F ? 0.5F * lane.getHeight() / unit : 0.0F;
    const auto y = [&](float value) { return juce::jlimit(lane.getY(), lane.getBottom(), middle - value * scale); };
    const auto indexAt = [&](float x) { return (axis.seconds(x) - start) * rate; };
    const double perPixel = axis.length / static_cast<double>(axis.width) * rate; // samples
    if (perPixel < 1.0)
    {
        const auto first = std::max<std::int64_t>(0, static_cast<std::int64_t>(std::floor(indexAt(lane.getX()))));
        const auto last = std::min(size - 1, static_cast<std::int64_t>(std::ceil(indexAt(lane.getRight()))));
        for (auto i = first; i <= last; ++i)
        {
            const float x = axis.x(start + static_cast<double>(i) / rate);
            tops.emplace_back(x, y(samples[static_cast<std::size_t>(i)]));
        }
        bottoms = tops;
        return;
    }
    constexpr float column = 0.5F; // px: fine enough for screens of twice as many
    for (float x = lane.getX(); x < lane.getRight(); x += column)
    {
        const auto first = static_cast<std::int64_t>(std::floor(indexAt(x)));
        const auto last = static_cast<std::int64_t>(std::floor(indexAt(x + column)));
        if (last < 0 || first >= size) continue;
        float least = samples[static_cast<std::size_t>(std::clamp<std::int64_t>(first, 0, size - 1))], most = least;
        for (auto i = std::max<std::int64_t>(first, 0); i <= std::min(last, size - 1); ++i)
        {
            least = std::min(least, samples[static_cast<std::size_t>(i)]);
            most = std::max(most, samples[static_cast<std::size_t>(i)]);
        }
        tops.emplace_back(x, y(most));
        bottoms.emplace_back(x, y(least));
    }
}

void WavePath::fill(juce::Graphics& g, juce::Colour colour) const
{
    if (tops.empty()) return;
    juce::Path path;
    path.startNewSubPath(tops.front().x, middle);
    for (const auto& p : tops) path.lineTo(p.x, std::min(p.y, middle));
    path.lineTo(tops.back().x, middle);
    for (auto it = bottoms.rbegin(); it != bottoms.rend(); ++it) path.lineTo(it->x, std::max(it->y, middle));
    path.closeSubPath();
    g.setColour(colour);
    g.fillPath(path);
}

juce::Path WavePath::line() const
{
    juce::Path path;
    for (std::size_t i = 0; i < tops.size(); ++i)
    {
        if (i == 0)
            path.startNewSubPath(tops[i]);
        else
            path.lineTo(tops[i]);
        if (bottoms[i].y - tops[i].y > 0.25F) path.lineTo(bottoms[i]);
    }
    return path;
}

void WavePath::outline(juce::Graphics& g, juce::Colour colour, float width) const
{
    g.setColour(colour);
    g.strokePath(line(), juce::PathStrokeType(width));
}

void WavePath::dashed(juce::Graphics& g, juce::Colour colour, float width) const
{
    constexpr float dashes[] = {3.0F, 2.5F};
    juce::Path path;
    juce::PathStrokeType(width).createDashedStroke(path, line(), dashes, 2);
    g.setColour(colour);
    g.fillPath(path);
}
} // namespace tarry
