#include "Files/TrialHtml.h"

#include "Files/Markup.h"
#include "Files/PageParts.h"
#include "Files/SheetWords.h"

#include <algorithm>
#include <map>
#include <nlohmann/json.hpp>
#include <stdexcept>
#include <string_view>

namespace tarry
{
namespace
{
/// RFC 4648, section 4.
std::string base64(std::string_view bytes)
{
    constexpr std::string_view letters = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/";
    std::string text;
    text.reserve((bytes.size() + 2) / 3 * 4);
    for (std::size_t i = 0; i < bytes.size(); i += 3)
    {
        const auto byte = [&](std::size_t k)
        { return i + k < bytes.size() ? static_cast<unsigned char>(bytes[i + k]) : 0U; };
        const unsigned group = byte(0) << 16U | byte(1) << 8U | byte(2);
        for (unsigned k = 0; k < 4; ++k) text += i + k <= bytes.size() ? letters[group >> (18U - 6U * k) & 63U] : '=';
    }
    return text;
}

/// Names a trial by its sounds: FNV-1a (Fowler, Noll, Vo), 64 bits. It tells pages apart; it keeps nobody out.
std::string nameOf(std::string_view bytes)
{
    std::uint64_t hash = 0xCBF29CE484222325U;
    for (const char byte : bytes) hash = (hash ^ static_cast<unsigned char>(byte)) * 0x100000001B3U;
    std::string digits;
    for (int shift = 60; shift >= 0; shift -= 4) digits += "0123456789abcdef"[hash >> shift & 15U];
    return digits;
}

/// Puts the values where the template names them in double braces.
std::string filled(std::string_view page, const std::map<std::string, std::string>& values)
{
    std::string text;
    for (std::size_t at = 0; at < page.size();)
    {
        const auto open = page.find("{{", at);
        if (open == std::string_view::npos) return text.append(page.substr(at));
        const auto close = page.find("}}", open);
        text.append(page.substr(at, open - at));
        text += values.at(std::string(page.substr(open + 2, close - open - 2)));
        at = close + 2;
    }
    return text;
}
} // namespace

int usualTimes(std::size_t cues)
{
    constexpr int answers = 16, least = 4;
    const int count = std::max(1, static_cast<int>(cues));
    return std::max(least, (answers + count - 1) / count);
}

std::string trialHtml(const TrialSheet& trial)
{
    using Json = nlohmann::ordered_json;
    Json data;
    std::string sounds;
    data["plan"] = trial.plan;
    data["version"] = trial.version;
    data["times"] = trial.times;
    data["cues"] = Json::array();
    for (const TrialCue& cue : trial.cues)
    {
        sounds += cue.asRecorded + cue.aligned;
        data["cues"].push_back(
            {{"name", cue.name}, {"as_recorded", base64(cue.asRecorded)}, {"aligned", base64(cue.aligned)}});
    }
    data["id"] = nameOf(sounds); // other sounds are another trial
    const std::string json = scriptSafe(data.dump(-1, ' ', false, Json::error_handler_t::replace));
    return filled(pagePart("trial.html"),
                  {{"version", escaped(trial.version)},
                   {"plan", escaped(trial.plan)},
                   {"caution", escaped(sheetCaution)},
                   {"style", std::string(pagePart("look.css")) + std::string(pagePart("trial.css"))},
                   {"data", json},
                   {"script", std::string(pagePart("trial.js"))}});
}
} // namespace tarry
