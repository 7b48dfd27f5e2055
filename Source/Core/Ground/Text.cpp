#include "Core/Ground/Text.h"

#include <array>
#include <charconv>
#include <cmath>
#include <locale>
#include <sstream>

namespace tarry
{
namespace
{
std::string withTrueMinus(std::string number)
{
    if (number.front() == '-') number.replace(0, 1, "\u2212");
    return number;
}
} // namespace

std::string fixed(double value, int decimals)
{
    std::array<char, 400> text{}; // the largest double has 309 digits
    char* const end =
        std::to_chars(text.data(), text.data() + text.size(), value, std::chars_format::fixed, decimals).ptr;
    std::string number(text.data(), end);
    if (number.find_first_not_of("-0.") == std::string::npos && number.front() == '-') number.erase(0, 1);
    return number;
}

std::string fixedSigned(double value, int decimals)
{
    const auto number = fixed(value, decimals);
    return number.front() == '-' ? number : "+" + number;
}

std::string shown(double value, int decimals)
{
    return withTrueMinus(fixed(value, decimals));
}

std::string shownSigned(double value, int decimals)
{
    return withTrueMinus(fixedSigned(value, decimals));
}

std::string shownPercent(double probability)
{
    if (probability > 0.99) return "over 99 %";
    if (probability < 0.01) return "under 1 %";
    return shown(100.0 * probability, 0) + " %";
}

std::optional<double> readNumber(std::string_view text)
{
    std::istringstream stream{std::string(text)}; // std::from_chars reads no double in libc++ before 20
    stream.imbue(std::locale::classic());
    double value = 0.0;
    if (!(stream >> std::noskipws >> value) || stream.peek() != std::istringstream::traits_type::eof())
        return std::nullopt;
    if (!std::isfinite(value)) return std::nullopt;
    return value;
}

std::string_view trimmed(std::string_view text)
{
    constexpr std::string_view space = " \t\r\n\v\f";
    const auto first = text.find_first_not_of(space);
    if (first == std::string_view::npos) return {};
    return text.substr(first, text.find_last_not_of(space) - first + 1);
}

std::string quoted(std::string_view text)
{
    constexpr std::size_t longest = 40;
    std::string words;
    for (const char c : text.substr(0, longest)) words += c >= ' ' && c <= '~' ? c : '?';
    return "'" + words + (text.size() > longest ? "...'" : "'");
}

const char* nameOf(Polarity polarity)
{
    return polarity == Polarity::normal ? "normal" : "inverted";
}

const char* nameOf(Verdict verdict)
{
    switch (verdict)
    {
    case Verdict::align:
        return "align";
    case Verdict::leave:
        return "leave";
    default:
        return "unsure";
    }
}
} // namespace tarry
