#include "Plugin/Blend.h"

#include <algorithm>
#include <cstddef>

namespace tarry
{
void Blend::prepare(double sampleRate, int spotChannels, int roomChannels) noexcept
{
    spots = spotChannels;
    rooms = roomChannels;
    step = static_cast<float>(1.0 / (fade * sampleRate));
    gainNow = 0.0F;
}

void Blend::add(const std::array<float*, maxSpotChannels>& spot, const std::array<const float*, maxSpotChannels>& room,
                int frames, double gain, bool atOnce) noexcept
{
    const float target = rooms > 0 ? static_cast<float>(gain) : 0.0F;
    if (atOnce) gainNow = target;
    if (gainNow == 0.0F && target == 0.0F) return;

    const bool fold = spots == 1 && rooms == 2;
    const bool widen = spots == 2 && rooms == 1;
    for (std::size_t k = 0; k < static_cast<std::size_t>(frames); ++k)
    {
        gainNow += std::clamp(target - gainNow, -step, step);
        for (std::size_t i = 0; i < static_cast<std::size_t>(spots); ++i)
        {
            const float heard = fold ? 0.5F * (room[0][k] + room[1][k]) : room[widen ? 0 : i][k];
            spot[i][k] += gainNow * heard;
        }
    }
}
} // namespace tarry
