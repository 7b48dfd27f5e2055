#pragma once

#include "Files/KeptChunks.h"

#include <cstdint>
#include <filesystem>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

namespace tarry
{
/// What a sound file is made of: enough to describe it, and to write another of the same kind.
struct AudioInfo
{
    std::filesystem::path file;
    int channels = 0;
    int sampleRate = 0;      ///< Hz
    std::int64_t frames = 0; ///< samples of each channel
    int format = 0;          ///< container, sample format and byte order, as libsndfile packs them

    std::string broadcast; ///< the broadcast-wave chunk, byte for byte (EBU Tech 3285); empty where there is none
    std::vector<KeptChunk> chunks;                    ///< the others that a print keeps
    std::vector<std::pair<int, std::string>> strings; ///< a FLAC file's, by libsndfile's numbers

    [[nodiscard]] double seconds() const { return static_cast<double>(frames) / sampleRate; }
    [[nodiscard]] bool isInteger() const; ///< integer samples; else float or double
    [[nodiscard]] int bits() const;       ///< of one sample
    [[nodiscard]] std::string container() const;
};

/// Where on the clock a broadcast wave starts, in samples since midnight; 0 without the chunk. The whole range of the
/// format (EBU Tech 3285: two words of 32 bits) can occur, sensible or not.
[[nodiscard]] std::uint64_t timeReference(const AudioInfo& info);

/// Moves that, in iXML too; adds the broadcast chunk where there is none.
void setTimeReference(AudioInfo& info, std::uint64_t samplesSinceMidnight);

/// The day of the recording, "2031-02-03"; empty without a broadcast chunk that says it.
[[nodiscard]] std::string originationDate(const AudioInfo& info);

/// Adds a line to the broadcast chunk's coding history (EBU R98: format, rate, bits, channels, then free text, in which
/// no comma may stand). Where there is no such chunk, nothing: a new one would claim a start at midnight.
void addToCodingHistory(AudioInfo& info, std::string_view text);
} // namespace tarry
