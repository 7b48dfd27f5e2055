#include "Editor/TimeAxis.h"

#include "Editor/Words.h"

#include <cmath>

namespace tarry
{
namespace
{
constexpr float tickApart = 52.0F; // px
}

double TimeAxis::tickStep(float apart) const
{
    const double least = static_cast<double>(apart / width) * length;
    const double decade = std::pow(10.0, std::floor(std::log10(least)));
    for (const double times : {1.0, 2.0, 5.0})
        if (decade * times >= least) return decade * times;
    return decade * 10.0;
}

void TimeAxis::drawTicks(juce::Graphics& g, float top, float bottom) const
{
    const double step = tickStep(tickApart);
    for (double t = std::ceil(start / step) * step; t <= start + length; t += step)
        g.fillRect(x(t) - 0.5F, top, 1.0F, bottom - top);
}

void TimeAxis::drawLabels(juce::Graphics& g, float top, float height, double perUnit,
                          juce::Rectangle<float> keepOut) const
{
    const auto font = Look::font(Look::small);
    g.setFont(font);
    const double step = tickStep(tickApart);
    // As many digits as tell two ticks apart.
    const int decimals = juce::jlimit(0, 4, static_cast<int>(std::ceil(-std::log10(step / perUnit) - 1e-9)));
    for (double t = std::ceil(start / step) * step; t <= start + length; t += step)
    {
        const auto text = plainNumber(t / perUnit, decimals);
        const auto w = font.getStringWidthFloat(text) + 2.0F;
        const juce::Rectangle<float> place(juce::jlimit(left, left + width - w, x(t) - w * 0.5F), top, w, height);
        if (!place.intersects(keepOut)) Look::write(g, text, place, juce::Justification::centred);
    }
}
} // namespace tarry
