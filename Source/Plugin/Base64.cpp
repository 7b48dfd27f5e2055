#include "Plugin/Base64.h"

#include <cstddef>

namespace tarry
{
namespace
{
constexpr std::string_view alphabet = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/";
}

std::string toBase64(const std::vector<std::uint8_t>& bytes)
{
    std::string text;
    text.reserve((bytes.size() + 2) / 3 * 4);
    for (std::size_t i = 0; i < bytes.size(); i += 3)
    {
        const auto byte = [&](std::size_t k) { return i + k < bytes.size() ? std::uint32_t{bytes[i + k]} : 0U; };
        const std::uint32_t group = byte(0) << 16U | byte(1) << 8U | byte(2);
        for (std::size_t k = 0; k < 4; ++k)
            text += k <= bytes.size() - i ? alphabet[group >> (18U - 6U * static_cast<unsigned>(k)) & 63U] : '=';
    }
    return text;
}

std::optional<std::vector<std::uint8_t>> fromBase64(std::string_view text)
{
    if (text.size() % 4 != 0) return std::nullopt;
    const std::size_t padding = text.ends_with("==") ? 2 : text.ends_with('=') ? 1 : 0;
    text.remove_suffix(padding);
    std::vector<std::uint8_t> bytes;
    bytes.reserve(text.size() / 4 * 3 + 2);
    std::uint32_t group = 0;
    unsigned bits = 0;
    for (const char c : text)
    {
        const auto value = alphabet.find(c);
        if (value == std::string_view::npos) return std::nullopt;
        group = group << 6U | static_cast<std::uint32_t>(value);
        bits += 6;
        if (bits < 8) continue;
        bits -= 8;
        bytes.push_back(static_cast<std::uint8_t>(group >> bits & 255U));
    }
    return bytes;
}
} // namespace tarry
