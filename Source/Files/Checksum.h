#pragma once
#include <filesystem>
#include <functional>
#include <string>
#include <string_view>

namespace tarry
{
/// SHA-256 (FIPS 180-4) as 64 hexadecimal digits, as sha256sum prints it.
[[nodiscard]] std::string sha256Of(std::string_view bytes);

/// The same of a whole file. Throws InputError where it cannot be read.
[[nodiscard]] std::string sha256OfFile(const std::filesystem::path& file, const std::function<void()>& meanwhile = {});
} // namespace tarry
