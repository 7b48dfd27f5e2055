#include "Files/CutShort.h"

#include <algorithm>
#include <array>
#include <fstream>
#include <string_view>

namespace tarry
{
namespace
{
/// Reads a sound file's chunks at a given place. Past the end everything is zero.
class Chunks
{
public:
    explicit Chunks(const std::filesystem::path& file) : stream(file, std::ios::binary)
    {
        std::error_code unreadable;
        const auto size = std::filesystem::file_size(file, unreadable);
        length = unreadable ? 0 : size;
    }

    [[nodiscard]] bool isAt(std::uint64_t place, std::string_view name)
    {
        return read<4>(place) == std::string_view(name.data(), 4);
    }

    template <std::size_t Bytes>
    [[nodiscard]] std::uint64_t number(std::uint64_t place, bool bigEndian)
    {
        auto bytes = read<Bytes>(place);
        if (!bigEndian) std::reverse(bytes.text.begin(), bytes.text.end());
        std::uint64_t value = 0;
        for (const char byte : bytes.text) value = value << 8 | static_cast<unsigned char>(byte);
        return value;
    }

    std::uint64_t length = 0;

private:
    template <std::size_t Bytes>
    struct Text
    {
        std::array<char, Bytes> text{};
        bool operator==(std::string_view other) const { return std::string_view(text.data(), Bytes) == other; }
    };

    template <std::size_t Bytes>
    Text<Bytes> read(std::uint64_t place)
    {
        Text<Bytes> bytes;
        stream.clear();
        stream.seekg(static_cast<std::streamoff>(place));
        stream.read(bytes.text.data(), Bytes);
        return bytes;
    }

    std::ifstream stream;
};

std::uint64_t beyond(std::uint64_t start, std::uint64_t size, std::uint64_t length)
{
    return start + size > length ? start + size - length : 0;
}

/// RIFF, RIFX, RF64 (EBU Tech 3306) and FORM: a name of four letters, a size of four bytes, padded to even.
std::uint64_t missingInRiff(Chunks& chunks, bool bigEndian, std::string_view soundName)
{
    std::uint64_t wideSize = 0; // RF64 keeps the sizes that do not fit in its 'ds64'
    for (std::uint64_t place = 12; place + 8 <= chunks.length;)
    {
        const std::uint64_t size = chunks.number<4>(place + 4, bigEndian);
        if (chunks.isAt(place, "ds64")) wideSize = chunks.number<8>(place + 16, bigEndian);
        if (chunks.isAt(place, soundName))
        {
            if (size != 0xFFFFFFFF) return beyond(place + 8, size, chunks.length);
            return beyond(place + 8, wideSize, chunks.length); // without ds64: written to a pipe, length open
        }
        place += 8 + size + size % 2;
    }
    return 0;
}

/// W64: GUIDs of 16 bytes whose first four spell the name, sizes of eight that count the header too, padded to eight.
std::uint64_t missingInW64(Chunks& chunks)
{
    for (std::uint64_t place = 40; place + 24 <= chunks.length;)
    {
        const std::uint64_t size = chunks.number<8>(place + 16, false);
        if (chunks.isAt(place, "data")) return beyond(place, size, chunks.length);
        if (size < 24 || size > chunks.length) return 0;
        place += (size + 7) / 8 * 8;
    }
    return 0;
}
} // namespace

std::uint64_t missingBytes(const std::filesystem::path& file)
{
    Chunks chunks(file);
    if (chunks.isAt(0, "RIFF") || chunks.isAt(0, "RF64")) return missingInRiff(chunks, false, "data");
    if (chunks.isAt(0, "RIFX")) return missingInRiff(chunks, true, "data");
    if (chunks.isAt(0, "FORM")) return missingInRiff(chunks, true, "SSND");
    if (chunks.isAt(0, "riff")) return missingInW64(chunks);
    return 0;
}
} // namespace tarry
