#include "Files/ChunkReader.h"

#include "Files/Errors.h"

#include <algorithm>

namespace tarry
{
namespace
{
constexpr std::size_t mostChunks = 4096; // a damaged file can claim any number
} // namespace

ChunkReader::ChunkReader(const std::filesystem::path& soundFile) : file(soundFile), stream(file, std::ios::binary)
{
    std::error_code unreadable;
    const auto size = std::filesystem::file_size(file, unreadable);
    fileLength = unreadable ? 0 : size;
}

std::string ChunkReader::bytes(std::uint64_t place, std::size_t count)
{
    std::string text(count, '\0');
    stream.clear();
    stream.seekg(static_cast<std::streamoff>(place));
    stream.read(text.data(), static_cast<std::streamsize>(count));
    if (stream.bad()) throw InputError(file, "cannot be read: check the disk, or copy it again");
    return text;
}

bool ChunkReader::isAt(std::uint64_t place, std::string_view name)
{
    return bytes(place, 4) == name;
}

std::uint64_t ChunkReader::number(std::uint64_t place, std::size_t count, bool bigEndian)
{
    auto text = bytes(place, count);
    if (!bigEndian) std::reverse(text.begin(), text.end());
    std::uint64_t value = 0;
    for (const char byte : text) value = value << 8 | static_cast<unsigned char>(byte);
    return value;
}

std::vector<ChunkReader::Chunk> ChunkReader::chunks()
{
    const bool bigEndian = isAt(0, "RIFX") || isAt(0, "FORM");
    if (!bigEndian && !isAt(0, "RIFF") && !isAt(0, "RF64")) return {};
    std::vector<Chunk> found;
    std::uint64_t wideSize = 0; // RF64 keeps the size that does not fit in its 'ds64'
    for (std::uint64_t place = 12; place + 8 <= fileLength && found.size() < mostChunks;)
    {
        std::uint64_t size = number(place + 4, 4, bigEndian);
        std::string name = bytes(place, 4);
        if (name == "ds64") wideSize = number(place + 16, 8, bigEndian);
        if (name == "data" && size == 0xFFFFFFFF) size = wideSize; // without ds64: written to a pipe, length open
        found.push_back({std::move(name), place + 8, size});
        if (size >= fileLength - place) break;
        place += 8 + size + size % 2;
    }
    return found;
}
} // namespace tarry
