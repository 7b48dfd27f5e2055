#pragma once
#include "Core/Controls/Sides.h"

#include <array>
#include <atomic>
#include <cstddef>
#include <cstdint>
#include <optional>

namespace tarry
{
/// What is held, as audio sees it: lag and polarity of a side in one word, so that both are read at once and without a
/// lock. Any thread.
class HeldWords
{
public:
    void store(const std::optional<Sides>& held) noexcept;
    /// None: nothing is held, the spot passes as recorded.
    [[nodiscard]] std::optional<Alignment> load(std::size_t side) const noexcept;

private:
    static constexpr std::int64_t nothing = INT64_MIN;

    // Nanoseconds times two, plus one if inverted.
    std::array<std::atomic<std::int64_t>, maxSpotChannels> words{nothing, nothing};
};
} // namespace tarry
