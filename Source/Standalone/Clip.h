#pragma once
#include "Files/AudioInfo.h"

#include <atomic>
#include <memory>
#include <vector>

namespace tarry::standalone
{
/// A sound file in memory, at the rate it is played at: the audio thread never touches files.
struct Clip
{
    AudioInfo info;          ///< of the file itself, at its own rate
    double sampleRate = 0.0; ///< Hz, of the samples below
    std::vector<std::vector<float>> channels;

    [[nodiscard]] std::int64_t frames() const
    {
        return channels.empty() ? 0 : static_cast<std::int64_t>(channels.front().size());
    }
};

using ClipPointer = std::shared_ptr<const Clip>;

/// 512 MiB, three quarters of an hour of mono at 48 kHz. Longer files are for the command.
inline constexpr std::int64_t mostClipBytes = std::int64_t{512} << 20;

/// Reads all of a mono or stereo file. sampleRate in Hz, 0 for the file's own. Throws InputError; returns nothing when
/// `cancelled` turns true meanwhile. Any thread but audio.
[[nodiscard]] ClipPointer loadClip(const std::filesystem::path& file, double sampleRate,
                                   const std::atomic<bool>& cancelled);
} // namespace tarry::standalone
