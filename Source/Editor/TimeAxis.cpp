#include "Editor/TimeAxis.h"

#include "Editor/Words.h"

#include <algorithm>
#include <cmath>

namespace tarry
{
namespace
{
constexpr float tickApart = 52.0F; // px
}

double TimeAxis::tickStep(float apart, double perUnit) const
{
    const double least = static_cast<double>(apart / width) * length / perUnit; // units
    const double decade = std::pow(10.0, std::floor(std::log10(least)));
    for (const double times : {1.0, 2.0, 5.0})
        if (decade * times >= least) return decade * times * perUnit;
    return decade * 10.0 * perUnit;
}

void TimeAxis::drawTicks(juce::Graphics& g, float top, float bottom) const
{
    const double step = tickStep(tickApart);
    for (double t = std::ceil(start / step) * step; t <= start + length; t += step)
        g.fillRect(x(t) - 0.5F, top, 1.0F, bottom - top);
}

void TimeAxis::drawRule(juce::Graphics& g, float edge, float mark, const Scale& scale) const
{
    constexpr int between = 10; // marks from one tick to the next, as on a rule
    const double step = tickStep(tickApart, scale.perUnit) / between;
    const auto end = static_cast<long>(std::floor((start + length) / step));
    for (auto i = static_cast<long>(std::ceil(std::max(start, scale.first) / step - 1e-6)); i <= end; ++i)
    {
        const float share = i % between == 0 ? 1.0F : i % (between / 2) == 0 ? 0.7F : 0.45F;
        const float far = edge + mark * share;
        g.fillRect(
            juce::Rectangle<float>::leftTopRightBottom(x(static_cast<double>(i) * step) - 0.5F, std::min(edge, far),
                                                       x(static_cast<double>(i) * step) + 0.5F, std::max(edge, far)));
    }
}

void TimeAxis::drawLabels(juce::Graphics& g, float top, float height, const Scale& scale,
                          juce::Rectangle<float> keepOut) const
{
    const auto font = Look::font(Look::small);
    g.setFont(font);
    const double step = tickStep(tickApart, scale.perUnit);
    // As many digits as tell two ticks apart.
    const int decimals = juce::jlimit(0, 4, static_cast<int>(std::ceil(-std::log10(step / scale.perUnit) - 1e-9)));
    for (double t = std::ceil(std::max(start, scale.first) / step - 1e-6) * step; t <= start + length; t += step)
    {
        const auto text = plainNumber(t / scale.perUnit, decimals);
        const auto w = font.getStringWidthFloat(text) + 2.0F;
        const juce::Rectangle<float> place(juce::jlimit(left, left + width - w, x(t) - w * 0.5F), top, w, height);
        if (!place.intersects(keepOut)) Look::write(g, text, place, juce::Justification::centred);
    }
}
} // namespace tarry
