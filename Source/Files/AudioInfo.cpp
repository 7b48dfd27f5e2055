#include "Files/AudioInfo.h"

#include <cstddef>
#include <cstring>
#include <sndfile.h>

namespace tarry
{
bool AudioInfo::isInteger() const
{
    const int samples = format & SF_FORMAT_SUBMASK;
    return samples != SF_FORMAT_FLOAT && samples != SF_FORMAT_DOUBLE;
}

int AudioInfo::bits() const
{
    switch (format & SF_FORMAT_SUBMASK)
    {
    case SF_FORMAT_PCM_S8:
    case SF_FORMAT_PCM_U8:
        return 8;
    case SF_FORMAT_PCM_16:
        return 16;
    case SF_FORMAT_PCM_24:
        return 24;
    case SF_FORMAT_DOUBLE:
        return 64;
    default:
        return 32;
    }
}

std::string AudioInfo::container() const
{
    switch (format & SF_FORMAT_TYPEMASK)
    {
    case SF_FORMAT_WAV:
    case SF_FORMAT_WAVEX:
        return "WAV";
    case SF_FORMAT_W64:
        return "W64";
    case SF_FORMAT_RF64:
        return "RF64";
    case SF_FORMAT_AIFF:
        return "AIFF";
    case SF_FORMAT_FLAC:
        return "FLAC";
    default:
        return "unknown";
    }
}

std::int64_t timeReference(const AudioInfo& info)
{
    SF_BROADCAST_INFO fixed{};
    std::memcpy(&fixed, info.broadcast.data(), std::min(sizeof(fixed), info.broadcast.size()));
    return (static_cast<std::int64_t>(fixed.time_reference_high) << 32) | fixed.time_reference_low;
}

void setTimeReference(AudioInfo& info, std::int64_t samplesSinceMidnight)
{
    SF_BROADCAST_INFO fixed{};
    constexpr std::size_t fixedSize = offsetof(SF_BROADCAST_INFO, coding_history);
    if (info.broadcast.size() < fixedSize) info.broadcast.assign(fixedSize, 0);
    std::memcpy(&fixed, info.broadcast.data(), fixedSize);
    fixed.time_reference_low = static_cast<std::uint32_t>(samplesSinceMidnight & 0xFFFFFFFF);
    fixed.time_reference_high = static_cast<std::uint32_t>(samplesSinceMidnight >> 32);
    std::memcpy(info.broadcast.data(), &fixed, fixedSize);
}
} // namespace tarry
