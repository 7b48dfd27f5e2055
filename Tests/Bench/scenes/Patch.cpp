#include "Patch.h"

#include <cstdint>
#include <cstring>
#include <fstream>
#include <stdexcept>

namespace tarry::bench
{
namespace
{
// Sizes and places of the format's headers, from the public description of GF1 patches (from memory).
constexpr std::size_t headers = 129 + 63 + 47, sampleHeader = 96, layerSamples = 129 + 63 + 6;
constexpr std::size_t sizeAt = 8, rateAt = 20, rootAt = 30, modesAt = 55;

template <typename Number>
Number numberAt(const std::vector<char>& bytes, std::size_t place)
{
    Number number{};
    if (place + sizeof number <= bytes.size()) std::memcpy(&number, bytes.data() + place, sizeof number);
    return number;
}
} // namespace

std::vector<Patch> readPatches(const std::filesystem::path& file)
{
    std::ifstream stream(file, std::ios::binary);
    const std::vector<char> bytes((std::istreambuf_iterator<char>(stream)), {});
    if (bytes.size() < headers || std::memcmp(bytes.data(), "GF1PATCH1", 9) != 0)
        throw std::runtime_error(file.string() + ": is no patch file");

    std::vector<Patch> patches;
    std::size_t place = headers;
    for (int i = 0; i < numberAt<std::uint8_t>(bytes, layerSamples) && place + sampleHeader <= bytes.size(); ++i)
    {
        const auto size = numberAt<std::uint32_t>(bytes, place + sizeAt);
        const auto modes = numberAt<std::uint8_t>(bytes, place + modesAt);
        const bool wide = (modes & 1U) != 0, offset = (modes & 2U) != 0; // 16 bits; unsigned
        auto& patch = patches.emplace_back();
        patch.rate = numberAt<std::uint16_t>(bytes, place + rateAt);
        patch.root = numberAt<std::uint32_t>(bytes, place + rootAt) / 1000.0;
        place += sampleHeader;
        if (place + size > bytes.size()) throw std::runtime_error(file.string() + ": ends before its header says");
        for (std::size_t s = place; s + (wide ? 1 : 0) < place + size; s += wide ? 2 : 1)
        {
            const double low =
                wide ? numberAt<std::int16_t>(bytes, s) / 32768.0 : numberAt<std::int8_t>(bytes, s) / 128.0;
            patch.samples.push_back(!offset ? low : low < 0.0 ? low + 1.0 : low - 1.0);
        }
        place += size;
    }
    return patches;
}
} // namespace tarry::bench
