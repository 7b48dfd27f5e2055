#pragma once

#include <cstdint>
#include <filesystem>
#include <string>
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

    /// The broadcast-wave chunk as libsndfile hands it over (EBU Tech 3285); empty where there is none.
    std::vector<char> broadcast;

    [[nodiscard]] double seconds() const { return static_cast<double>(frames) / sampleRate; }
    [[nodiscard]] bool isInteger() const; ///< integer samples; else float or double
    [[nodiscard]] int bits() const;       ///< of one sample
    [[nodiscard]] std::string container() const;
};

/// Where on the clock a broadcast wave starts, in samples since midnight. `info` has to have the chunk.
[[nodiscard]] std::int64_t timeReference(const AudioInfo& info);

/// Moves that; adds the chunk where there is none.
void setTimeReference(AudioInfo& info, std::int64_t samplesSinceMidnight);
} // namespace tarry
