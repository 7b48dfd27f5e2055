#pragma once
#include "Files/Fixtures.h"
#include "Plugin/Recording.h"

#include <atomic>
#include <unistd.h>

namespace tarry::test
{
/// A folder of this process, gone with it.
class Folder
{
public:
    Folder() : place(std::filesystem::temp_directory_path() / ("tarry-standalone-" + std::to_string(::getpid())))
    {
        std::filesystem::create_directories(place);
    }
    ~Folder()
    {
        std::error_code ignored;
        std::filesystem::remove_all(place, ignored);
    }
    Folder(const Folder&) = delete;
    Folder& operator=(const Folder&) = delete;
    Folder(Folder&&) = delete;
    Folder& operator=(Folder&&) = delete;

    [[nodiscard]] std::filesystem::path operator/(const std::string& name) const { return place / name; }

private:
    std::filesystem::path place;
};

/// Channels as a float WAV: what is read back is bit for bit what was made.
inline std::filesystem::path save(const std::filesystem::path& file, const std::vector<std::vector<float>>& channels,
                                  int sampleRate)
{
    std::vector<double> interleaved;
    for (std::size_t k = 0; k < channels.front().size(); ++k)
        for (const auto& channel : channels) interleaved.push_back(static_cast<double>(channel[k]));
    makeFile(file, SF_FORMAT_WAV | SF_FORMAT_FLOAT, static_cast<int>(channels.size()), sampleRate, interleaved);
    return file;
}

inline const std::atomic<bool> never{false};
} // namespace tarry::test
