#include "Files/CutShort.h"

#include "Files/ChunkReader.h"

namespace tarry
{
namespace
{
std::uint64_t beyond(std::uint64_t start, std::uint64_t size, std::uint64_t length)
{
    const std::uint64_t there = length > start ? length - start : 0; // never start + size, which can wrap
    return size > there ? size - there : 0;
}

/// W64: GUIDs of 16 bytes whose first four spell the name, sizes of eight that count the header too, padded to eight.
std::uint64_t missingInW64(ChunkReader& file)
{
    for (std::uint64_t place = 40; place + 24 <= file.length();)
    {
        const std::uint64_t size = file.number(place + 16, 8, false);
        if (file.isAt(place, "data")) return beyond(place, size, file.length());
        if (size < 24 || size > file.length()) return 0;
        place += (size + 7) / 8 * 8;
    }
    return 0;
}
} // namespace

std::uint64_t missingBytes(const std::filesystem::path& file)
{
    ChunkReader reader(file);
    if (reader.isAt(0, "riff")) return missingInW64(reader);
    const std::string sound = reader.isAt(0, "FORM") ? "SSND" : "data";
    for (const auto& chunk : reader.chunks())
        if (chunk.name == sound) return beyond(chunk.place, chunk.size, reader.length());
    return 0;
}
} // namespace tarry
