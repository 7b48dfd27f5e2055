#include "Plugin/Blend.h"

#include <algorithm>
#include <cstddef>

namespace tarry
{
void Blend::prepare(double sampleRate, int spotChannels, int roomChannels) noexcept
{
    spots = spotChannels;
    rooms = roomChannels;
    gain.prepare(sampleRate, 0.0);
}

void Blend::add(const std::array<float*, maxSpotChannels>& spot, const std::array<const float*, maxSpotChannels>& room,
                int frames, double wanted, bool atOnce) noexcept
{
    gain.setTarget(rooms > 0 ? wanted : 0.0, atOnce);
    if (gain.isAt(0.0)) return;

    const bool fold = spots == 1 && rooms == 2;
    const bool widen = spots == 2 && rooms == 1;
    for (std::size_t k = 0; k < static_cast<std::size_t>(frames); ++k)
    {
        const float gainNow = gain.next();
        for (std::size_t i = 0; i < static_cast<std::size_t>(spots); ++i)
        {
            const float heard = fold ? 0.5F * (room[0][k] + room[1][k]) : room[widen ? 0 : i][k];
            spot[i][k] += gainNow * heard;
        }
    }
}
} // namespace tarry
