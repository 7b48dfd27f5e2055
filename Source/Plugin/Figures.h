#pragma once
#include <array>
#include <charconv>
#include <cmath>
#include <optional>
#include <string>
#include <string_view>
#include <system_error>

namespace tarry
{
/// A number with that many decimals and a point, whatever locale a host has set: "-3.50". No "-0.00".
[[nodiscard]] inline std::string fixed(double value, int decimals)
{
    std::array<char, 400> text{}; // the largest double has 309 digits
    const auto end =
        std::to_chars(text.data(), text.data() + text.size(), value, std::chars_format::fixed, decimals).ptr;
    std::string number(text.data(), end);
    if (number.find_first_not_of("-0.") == std::string::npos && number.front() == '-') number.erase(0, 1);
    return number;
}

/// The same with its sign: "+3.50", "-3.50", "+0.00".
[[nodiscard]] inline std::string fixedSigned(double value, int decimals)
{
    const auto number = fixed(value, decimals);
    return number.front() == '-' ? number : "+" + number;
}

/// Reads a finite number with a point, all of the text and nothing else; a leading plus is welcome.
[[nodiscard]] inline std::optional<double> readNumber(std::string_view text)
{
    if (text.size() > 1 && text[0] == '+' && text[1] != '-') text.remove_prefix(1);
    double value = 0.0;
    const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), value);
    if (error != std::errc{} || end != text.data() + text.size() || !std::isfinite(value)) return std::nullopt;
    return value;
}

/// Without the white space around it.
[[nodiscard]] inline std::string_view trimmed(std::string_view text)
{
    constexpr std::string_view space = " \t\r\n\v\f";
    const auto first = text.find_first_not_of(space);
    if (first == std::string_view::npos) return {};
    return text.substr(first, text.find_last_not_of(space) - first + 1);
}

/// A stranger's text in quotes, for a message of one line: cut short, and free of what cannot be printed.
[[nodiscard]] inline std::string quoted(std::string_view text)
{
    constexpr std::size_t longest = 40;
    std::string shown;
    for (const char c : text.substr(0, longest)) shown += c >= ' ' && c <= '~' ? c : '?';
    return "'" + shown + (text.size() > longest ? "...'" : "'");
}
} // namespace tarry
