#include "Plugin/Loudness.h"

#include <ebur128.h>

#include <cmath>
#include <memory>
#include <new>
#include <stdexcept>
#include <string>

namespace tarry
{
namespace
{
struct Destroy
{
    void operator()(ebur128_state* state) const { ebur128_destroy(&state); }
};
} // namespace

std::optional<double> integratedLoudness(const std::vector<std::vector<float>>& channels, double rate)
{
    if (channels.empty() || channels.size() > 2)
        throw std::invalid_argument("loudness is measured of 1 or 2 channels, not of " +
                                    std::to_string(channels.size()));
    if (!(rate >= 8000.0 && rate <= 2822400.0)) // the library's own limit above
        throw std::invalid_argument("loudness cannot be measured at this sample rate");
    const std::size_t frames = channels.front().size();
    if (channels.back().size() != frames) throw std::invalid_argument("the channels differ in length");

    const std::unique_ptr<ebur128_state, Destroy> state(ebur128_init(
        static_cast<unsigned>(channels.size()), static_cast<unsigned long>(std::lround(rate)), EBUR128_MODE_I));
    if (!state) throw std::bad_alloc();
    std::vector<float> interleaved(frames * channels.size());
    for (std::size_t k = 0; k < frames; ++k)
        for (std::size_t i = 0; i < channels.size(); ++i) interleaved[k * channels.size() + i] = channels[i][k];
    double loudness = 0.0;
    if (ebur128_add_frames_float(state.get(), interleaved.data(), frames) != EBUR128_SUCCESS ||
        ebur128_loudness_global(state.get(), &loudness) != EBUR128_SUCCESS)
        throw std::bad_alloc(); // the only way in which these fail in this mode
    if (!std::isfinite(loudness)) return std::nullopt;
    return loudness;
}

LoudnessMatch matchLoudness(double first, double second)
{
    LoudnessMatch match;
    match.difference = first - second;
    (match.difference > 0.0 ? match.first : match.second) = std::pow(10.0, -std::abs(match.difference) / 20.0);
    return match;
}
} // namespace tarry
