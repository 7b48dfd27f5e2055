#include "Files/Markup.h"

#include <algorithm>

namespace tarry
{
std::size_t characterAt(std::string_view text, std::size_t at)
{
    const auto byte = [&](std::size_t i) { return i < text.size() ? static_cast<unsigned char>(text[i]) : 0U; };
    const unsigned first = byte(at);
    if (first < 0x80) return first >= 0x20 && first != 0x7F ? 1 : 0;
    const std::size_t size = first >= 0xC2 && first < 0xE0   ? 2
                             : first >= 0xE0 && first < 0xF0 ? 3
                             : first >= 0xF0 && first < 0xF5 ? 4
                                                             : 0;
    for (std::size_t i = 1; i < size; ++i)
        if ((byte(at + i) & 0xC0U) != 0x80U) return 0;
    const bool overlong = (first == 0xE0 && byte(at + 1) < 0xA0) || (first == 0xF0 && byte(at + 1) < 0x90);
    const bool surrogate = first == 0xED && byte(at + 1) >= 0xA0;
    const bool noCharacter = first == 0xEF && byte(at + 1) == 0xBF && byte(at + 2) >= 0xBE;
    const bool beyond = first == 0xF4 && byte(at + 1) >= 0x90; // above U+10FFFF
    const bool control = first == 0xC2 && byte(at + 1) < 0xA0; // U+0080 to U+009F
    return overlong || surrogate || noCharacter || beyond || control ? 0 : size;
}

std::string escaped(std::string_view text)
{
    std::string safe;
    safe.reserve(text.size());
    for (std::size_t i = 0; i < text.size();)
    {
        const std::size_t size = characterAt(text, i);
        const char c = text[i];
        if (c == '<')
            safe += "&lt;";
        else if (c == '>')
            safe += "&gt;";
        else if (c == '&')
            safe += "&amp;";
        else if (c == '"')
            safe += "&quot;";
        else if (c == '\'')
            safe += "&#39;";
        else if (size > 0)
            safe += text.substr(i, size);
        else
            safe += static_cast<unsigned char>(c) < 0x80 ? " " : "\xEF\xBF\xBD";
        i += std::max<std::size_t>(size, 1);
    }
    return safe;
}

std::string scriptSafe(std::string json)
{
    for (std::size_t at = 0; (at = json.find('<', at)) != std::string::npos;) json.replace(at, 1, "\\u003c");
    return json;
}
} // namespace tarry
