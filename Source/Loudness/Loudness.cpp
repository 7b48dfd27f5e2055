#include "Loudness/Loudness.h"

#include <ebur128.h>

#include <array>
#include <cmath>
#include <new>
#include <stdexcept>
#include <string>

namespace tarry
{
struct LoudnessMeter::State
{
    ebur128_state* library = nullptr;
};

void LoudnessMeter::Destroy::operator()(State* doomed) const noexcept
{
    ebur128_destroy(&doomed->library);
    delete doomed;
}

LoudnessMeter::LoudnessMeter(int channels, double rate) : channelCount(channels)
{
    if (channels < 1 || channels > 2)
        throw std::invalid_argument("loudness is measured of 1 or 2 channels, not of " + std::to_string(channels));
    if (!(rate >= 8000.0 && rate <= 2822400.0)) // the library's own limit above
        throw std::invalid_argument("loudness cannot be measured at this sample rate");
    auto* library =
        ebur128_init(static_cast<unsigned>(channels), static_cast<unsigned long>(std::lround(rate)), EBUR128_MODE_I);
    if (library == nullptr) throw std::bad_alloc();
    state.reset(new State{library});
}

void LoudnessMeter::add(const float* const* channels, int frames)
{
    const auto count = static_cast<std::size_t>(frames), width = static_cast<std::size_t>(channelCount);
    interleaved.resize(count * width);
    for (std::size_t k = 0; k < count; ++k)
        for (std::size_t i = 0; i < width; ++i) interleaved[k * width + i] = channels[i][k];
    if (ebur128_add_frames_float(state->library, interleaved.data(), count) != EBUR128_SUCCESS) throw std::bad_alloc();
}

std::optional<double> LoudnessMeter::integrated() const
{
    double loudness = 0.0;
    if (ebur128_loudness_global(state->library, &loudness) != EBUR128_SUCCESS || !std::isfinite(loudness))
        return std::nullopt;
    return loudness;
}

std::optional<double> integratedLoudness(const std::vector<std::vector<float>>& channels, double rate)
{
    LoudnessMeter meter(static_cast<int>(channels.size()), rate);
    if (channels.back().size() != channels.front().size()) throw std::invalid_argument("the channels differ in length");
    std::array<const float*, 2> pointers{channels.front().data(), channels.back().data()};
    meter.add(pointers.data(), static_cast<int>(channels.front().size()));
    return meter.integrated();
}

LoudnessMatch matchLoudness(double first, double second)
{
    LoudnessMatch match;
    match.difference = first - second;
    (match.difference > 0.0 ? match.first : match.second) = std::pow(10.0, -std::abs(match.difference) / 20.0);
    return match;
}
} // namespace tarry
