#include "Standalone/Clip.h"

#include "Core/Ground/Types.h"
#include "Files/RateConverter.h"

#include <array>
#include <cmath>

namespace tarry::standalone
{
ClipPointer loadClip(const std::filesystem::path& file, double sampleRate, const std::atomic<bool>& cancelled)
{
    constexpr int block = 8192; // frames
    AudioReader reader(file, maxSpotChannels);
    auto clip = std::make_shared<Clip>();
    clip->info = reader.info();
    clip->sampleRate = sampleRate > 0.0 ? sampleRate : clip->info.sampleRate;

    const double bytes =
        clip->info.seconds() * clip->sampleRate * clip->info.channels * static_cast<double>(sizeof(float));
    if (bytes > static_cast<double>(mostClipBytes))
        throw InputError(file, "is too long to be played from memory (" +
                                   std::to_string(std::lround(clip->info.seconds() / 60.0)) +
                                   " min): cut it, or use the command 'tarry print'");

    clip->channels.resize(static_cast<std::size_t>(clip->info.channels));
    for (auto& channel : clip->channels)
        channel.reserve(
            static_cast<std::size_t>(std::ceil(bytes / clip->info.channels / static_cast<double>(sizeof(float)))));
    RateConverter converter(reader, clip->sampleRate);
    std::array<std::vector<float>, maxSpotChannels> buffers;
    std::array<float*, maxSpotChannels> pointers{};
    for (std::size_t i = 0; i < buffers.size(); ++i)
    {
        buffers[i].resize(block);
        pointers[i] = buffers[i].data();
    }
    for (int got = block; got == block;)
    {
        if (cancelled) return nullptr;
        got = converter.read(pointers.data(), block);
        for (std::size_t i = 0; i < clip->channels.size(); ++i)
            clip->channels[i].insert(clip->channels[i].end(), pointers[i], pointers[i] + got);
    }
    return clip;
}
} // namespace tarry::standalone
