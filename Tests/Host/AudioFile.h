#pragma once
#include <cstddef>
#include <string>
#include <vector>

namespace tarry::host
{
/// Samples in memory, channel after channel. The files of tests are short.
struct Audio
{
    double sampleRate = 0.0; ///< Hz
    std::vector<std::vector<float>> channels;

    [[nodiscard]] std::size_t frames() const { return channels.empty() ? 0 : channels.front().size(); }
};

/// @throws std::runtime_error that names the file
[[nodiscard]] Audio readAudio(const std::string& path);
/// 32-bit float WAV. @throws std::runtime_error that names the file
void writeAudio(const std::string& path, const Audio& audio);
} // namespace tarry::host
