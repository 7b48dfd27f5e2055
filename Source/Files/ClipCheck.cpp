#include "Files/ClipCheck.h"

#include "Core/Ground/Text.h"

#include <cmath>

namespace tarry
{
ClipCheck::ClipCheck(const AudioInfo& info)
    : sampleRate(info.sampleRate), needed(info.isInteger() ? 3 : 1),
      fullScale(info.isInteger() && info.bits() < 32 ? 1.0F - std::ldexp(1.0F, 1 - info.bits()) : 1.0F),
      runs(static_cast<std::size_t>(info.channels))
{
}

void ClipCheck::look(const float* const* channels, int frames)
{
    for (std::size_t channel = 0; channel < runs.size(); ++channel)
        for (int frame = 0; frame < frames; ++frame)
        {
            int& run = runs[channel];
            run = std::abs(channels[channel][frame]) >= fullScale ? run + 1 : 0;
            if (run != needed) continue;
            if (const auto at = position + frame - needed + 1; found == 0 || at < first) first = at;
            ++found;
        }
    position += frames;
}

std::string ClipCheck::note() const
{
    if (found == 0) return {};
    return "The spot clips: turn it down before the insert. (" +
           (found == 1 ? std::string("Once, at ") : std::to_string(found) + " times, first at ") +
           fixed(static_cast<double>(first) / sampleRate, 3) + " s.)";
}
} // namespace tarry
