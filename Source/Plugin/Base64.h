#pragma once
#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace tarry
{
/// Bytes as text and back, RFC 4648 with padding. None for what is no such text.
[[nodiscard]] std::string toBase64(const std::vector<std::uint8_t>& bytes);
[[nodiscard]] std::optional<std::vector<std::uint8_t>> fromBase64(std::string_view text);
} // namespace tarry
