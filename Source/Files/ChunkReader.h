#pragma once

#include <cstdint>
#include <filesystem>
#include <fstream>
#include <string>
#include <string_view>
#include <vector>

namespace tarry
{
/// Reads the chunks of RIFF, RIFX, RF64 (EBU Tech 3306) and FORM files: a name of four letters, a size of four bytes,
/// padded to even. Past the end everything is zero. Throws InputError where the disk cannot be read.
class ChunkReader
{
public:
    explicit ChunkReader(const std::filesystem::path& file);

    struct Chunk
    {
        std::string name;
        std::uint64_t place = 0; ///< of its bytes
        std::uint64_t size = 0;  ///< of its bytes as its header has it, which may lie beyond the file's end
    };

    /// The chunks in their order, at most a few thousand. Empty for other kinds of file.
    [[nodiscard]] std::vector<Chunk> chunks();

    [[nodiscard]] bool isAt(std::uint64_t place, std::string_view name);
    [[nodiscard]] std::string bytes(std::uint64_t place, std::size_t count);
    [[nodiscard]] std::uint64_t number(std::uint64_t place, std::size_t bytes, bool bigEndian);
    [[nodiscard]] std::uint64_t length() const { return fileLength; }

private:
    std::filesystem::path file;
    std::ifstream stream;
    std::uint64_t fileLength = 0;
};
} // namespace tarry
