#include "Plugin/HeldWords.h"

#include <cmath>

namespace tarry
{
void HeldWords::store(const std::optional<Sides>& held) noexcept
{
    for (std::size_t i = 0; i < words.size(); ++i)
    {
        std::int64_t word = nothing;
        if (held)
            word = std::llround(held->side[i].lag * 1.0e9) * 2 + (held->side[i].polarity == Polarity::inverted ? 1 : 0);
        words[i].store(word, std::memory_order_relaxed);
    }
}

std::optional<Alignment> HeldWords::load(std::size_t side) const noexcept
{
    const auto word = words[side].load(std::memory_order_relaxed);
    if (word == nothing) return std::nullopt;
    const bool inverted = (word & 1) != 0;
    const std::int64_t nanoseconds = (word - (inverted ? 1 : 0)) / 2;
    return Alignment{static_cast<double>(nanoseconds) / 1.0e9, inverted ? Polarity::inverted : Polarity::normal};
}
} // namespace tarry
