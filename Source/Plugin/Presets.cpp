#include "Plugin/Presets.h"

#include "Core/Ground/Text.h"

#include <algorithm>
#include <array>
#include <cmath>

namespace tarry
{
namespace
{
enum class Kind
{
    number,
    words ///< one of a few, in the order of their values
};

/// One setting, as it is called on the screen. Empty id: no parameter.
struct Setting
{
    std::string_view key, id;
    Kind kind = Kind::number;
    double least = 0.0, most = 0.0; ///< of a number
    std::string_view unit;
    int decimals = 0;
    std::array<std::string_view, 3> words{}; ///< an empty one is none
};

constexpr Setting number(std::string_view key, std::string_view id, double least, double most, std::string_view unit,
                         int decimals)
{
    return {key, id, Kind::number, least, most, unit, decimals, {}};
}

constexpr Setting choice(std::string_view key, std::string_view id,
                         const std::array<std::string_view, 3>& words = {"no", "yes", ""})
{
    return {key, id, Kind::words, 0.0, 0.0, {}, 0, words};
}

constexpr std::string_view lookAheadKey = "look-ahead", lateKey = "host delays the room", airKey = "air";
constexpr std::array settings{
    choice("hear", "aligned", {"as recorded", "aligned", ""}),
    number("reach", "reach", 5, 200, "ms", 0),
    number("lean", "lean", -20, 30, "ms", 2),
    choice("freeze when settled", "freezeWhenSettled"),
    choice("one clap is enough", "clap"),
    choice("whole samples", "wholeSamples"),
    choice("each side its own lag", "eachSide"),
    choice("room channel", "roomChannel", {"first arrival", "left", "right"}),
    number("blend room", "blendRoom", -40, 12, "dB", 1),
    number(lookAheadKey, {}, 0, 100, "ms", 2),
    choice(lateKey, {}),
    number(airKey, {}, -20, 50, "C", 1),
};

const Setting* find(std::string_view key)
{
    const auto* const found =
        std::find_if(settings.begin(), settings.end(), [&](const auto& setting) { return setting.key == key; });
    return found == settings.end() ? nullptr : found;
}

std::string list(const Setting& setting)
{
    std::string all;
    for (const auto word : setting.words)
        if (!word.empty()) all += (all.empty() ? "" : ", ") + std::string(word);
    return all;
}

/// The value, or throws what is wrong with it.
double readValue(const Setting& setting, std::string_view text)
{
    if (setting.kind == Kind::words)
    {
        for (std::size_t i = 0; i < setting.words.size(); ++i)
            if (!setting.words[i].empty() && setting.words[i] == text) return static_cast<double>(i);
        throw PresetError(quoted(text) + " is no value of '" + std::string(setting.key) + "': write one of " +
                          list(setting));
    }
    auto digits = text;
    if (digits.ends_with(setting.unit)) digits.remove_suffix(setting.unit.size());
    const auto value = readNumber(trimmed(digits));
    const auto range =
        "from " + fixed(setting.least, 0) + " to " + fixed(setting.most, 0) + " " + std::string(setting.unit);
    if (!value)
        throw PresetError(quoted(text) + " is no value of '" + std::string(setting.key) + "': write a number " + range);
    if (*value < setting.least || *value > setting.most)
        throw PresetError("'" + std::string(setting.key) + "' goes " + range + ", not to " + quoted(text));
    return *value;
}

void store(Preset& preset, const Setting& setting, double value)
{
    if (!setting.id.empty())
        preset.parameters[std::string(setting.id)] = value;
    else if (setting.key == lookAheadKey)
        preset.lookAhead = value / 1000.0;
    else if (setting.key == lateKey)
        preset.roomArrivesLate = value != 0.0;
    else
        preset.temperature = value;
}

std::optional<double> valueOf(const Preset& preset, const Setting& setting)
{
    if (!setting.id.empty())
    {
        const auto found = preset.parameters.find(std::string(setting.id));
        return found == preset.parameters.end() ? std::nullopt : std::optional(found->second);
    }
    if (setting.key == lookAheadKey) return preset.lookAhead ? std::optional(*preset.lookAhead * 1000.0) : std::nullopt;
    if (setting.key == lateKey)
        return preset.roomArrivesLate ? std::optional(*preset.roomArrivesLate ? 1.0 : 0.0) : std::nullopt;
    return preset.temperature;
}

/// Reads one line into the preset; `firstLines`: where each key was set.
void readLine(Preset& preset, std::string_view line, int number, std::map<std::string, int>& firstLines)
{
    const auto equals = line.find('=');
    if (equals == std::string_view::npos)
        throw PresetError(quoted(line) + " is no setting: a line reads 'lean = 8 ms'");
    const auto key = trimmed(line.substr(0, equals)), value = trimmed(line.substr(equals + 1));
    if (const auto [first, isNew] = firstLines.emplace(key, number); !isNew)
        throw PresetError(quoted(key) + " is set twice, first in line " + std::to_string(first->second));
    if (key == "name")
    {
        if (value.empty()) throw PresetError("the name is empty");
        preset.name = asPresetName(value);
        return;
    }
    const auto* setting = find(key);
    if (setting == nullptr) throw PresetError("there is no setting " + quoted(key));
    store(preset, *setting, readValue(*setting, value));
}
} // namespace

Preset readPreset(std::string_view text, const std::string& file)
{
    constexpr std::string_view byteOrderMark = "\xEF\xBB\xBF";
    if (text.starts_with(byteOrderMark)) text.remove_prefix(byteOrderMark.size());
    Preset preset;
    std::map<std::string, int> firstLines;
    int number = 0;
    while (!text.empty())
    {
        ++number;
        const auto end = std::min(text.find('\n'), text.size());
        const auto line = trimmed(text.substr(0, end));
        text.remove_prefix(std::min(end + 1, text.size()));
        if (line.empty() || line.front() == '#') continue;
        try
        {
            readLine(preset, line, number, firstLines);
        }
        catch (const PresetError& error)
        {
            throw PresetError(file + ", line " + std::to_string(number) + ": " + error.what() + ".");
        }
    }
    if (firstLines.empty() || (firstLines.size() == 1 && firstLines.contains("name")))
        throw PresetError(file + ", line " + std::to_string(std::max(1, number)) + ": the file ends and sets nothing.");
    if (preset.name.empty()) preset.name = asPresetName(file.substr(0, file.rfind('.')));
    return preset;
}

std::string writePreset(const Preset& preset)
{
    std::string text =
        "# Tarry preset: sets what it names and leaves the rest; lag and polarity are never part of it.\n"
        "name = " +
        asPresetName(preset.name) + "\n";
    for (const auto& setting : settings)
    {
        const auto value = valueOf(preset, setting);
        if (!value) continue;
        const auto index = static_cast<std::size_t>(std::clamp(std::lround(*value), 0L, 2L));
        text +=
            std::string(setting.key) + " = " +
            (setting.kind == Kind::words ? std::string(setting.words[index])
                                         : fixed(std::clamp(*value, setting.least, setting.most), setting.decimals) +
                                               " " + std::string(setting.unit)) +
            "\n";
    }
    return text;
}

std::string asPresetName(std::string_view wish)
{
    std::string name;
    for (const char c : wish)
        if (static_cast<unsigned char>(c) >= ' ') name += c;
    const auto kept = trimmed(name);
    return kept.empty() ? "Preset" : std::string(kept);
}

const std::vector<Preset>& ownPresets()
{
    static const std::vector<Preset> all = []
    {
        std::vector<Preset> read;
        for (const auto& file : ownPresetFiles()) read.push_back(readPreset(file.text, file.name));
        return read;
    }();
    return all;
}
} // namespace tarry
