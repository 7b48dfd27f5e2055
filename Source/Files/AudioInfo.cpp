#include "Files/AudioInfo.h"

#include <algorithm>
#include <cstddef>
#include <sndfile.h>

namespace tarry
{
namespace
{
// The broadcast chunk (EBU Tech 3285, supplement version 2): bytes, all numbers with the least byte first.
constexpr std::size_t datePlace = 320, dateSize = 10, timeReferencePlace = 338;
constexpr std::size_t broadcastSize = 602; // without its coding history
} // namespace

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

std::uint64_t timeReference(const AudioInfo& info)
{
    if (info.broadcast.size() < broadcastSize) return 0;
    std::uint64_t value = 0;
    for (std::size_t i = 8; i-- > 0;)
        value = value << 8 | static_cast<unsigned char>(info.broadcast[timeReferencePlace + i]);
    return value;
}

void setTimeReference(AudioInfo& info, std::uint64_t samplesSinceMidnight)
{
    if (info.broadcast.size() < broadcastSize) info.broadcast.resize(broadcastSize, '\0');
    for (std::size_t i = 0; i < 8; ++i)
        info.broadcast[timeReferencePlace + i] = static_cast<char>(samplesSinceMidnight >> (8 * i) & 0xFF);
    for (auto& chunk : info.chunks)
        if (chunk.name == "iXML") setTimeReferenceInIxml(chunk.bytes, samplesSinceMidnight);
}

std::string originationDate(const AudioInfo& info)
{
    if (info.broadcast.size() < broadcastSize) return {};
    auto date = info.broadcast.substr(datePlace, dateSize);
    for (std::size_t i = 0; i < dateSize; ++i) // the separator varies from machine to machine
        if (i == 4 || i == 7)
            date[i] = '-';
        else if (date[i] < '0' || date[i] > '9')
            return {};
    return date;
}

void addToCodingHistory(AudioInfo& info, std::string_view text)
{
    if (info.broadcast.size() < broadcastSize) return;
    std::string& chunk = info.broadcast;
    chunk.erase(std::max(broadcastSize, chunk.find_last_not_of('\0') + 1)); // padding
    if (chunk.size() > broadcastSize && chunk.back() != '\n') chunk += "\r\n";
    chunk += "A=PCM,F=" + std::to_string(info.sampleRate) + ",W=" + std::to_string(info.bits()) + ",M=" +
             (info.channels == 1   ? "mono"
              : info.channels == 2 ? "stereo"
                                   : "multi") +
             ",T=";
    for (const char c : text) chunk += c == ',' || c < ' ' || c > '~' ? ' ' : c;
    chunk += "\r\n";
}
} // namespace tarry
