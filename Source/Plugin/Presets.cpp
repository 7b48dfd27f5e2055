#include "Plugin/Presets.h"

#include "Core/Controls/SettingTable.h"
#include "Core/Ground/Text.h"

#include <algorithm>
#include <map>
#include <string>

namespace tarry
{
namespace
{
/// The settings that a preset may name, and the day's air: no preset of ours sets it, but one by hand can.
bool isKept(const Setting& setting)
{
    return setting.kept != Setting::Kept::momentary;
}

const Setting* find(std::string_view words)
{
    for (const auto& setting : settingTable())
        if (isKept(setting) && setting.words == words) return &setting;
    return nullptr;
}

std::string list(const Setting& setting)
{
    std::string all;
    for (double value = setting.least; value <= setting.most; ++value)
        all += (all.empty() ? "" : ", ") + std::string(setting.wordOf(value));
    return all;
}

/// The value, or throws what is wrong with it.
double readValue(const Setting& setting, std::string_view text)
{
    const auto name = quoted(setting.words);
    if (setting.kind != Setting::Kind::number)
    {
        for (double value = setting.least; value <= setting.most; ++value)
            if (setting.wordOf(value) == text) return value;
        throw PresetError(quoted(text) + " is no value of " + name + ": write one of " + list(setting));
    }
    const auto unit = setting.unitName();
    auto digits = text;
    if (digits.ends_with(unit)) digits.remove_suffix(unit.size());
    const auto value = readNumber(trimmed(digits));
    const auto range = "from " + fixed(setting.least, 0) + " to " + fixed(setting.most, 0) + " " + std::string(unit);
    if (!value) throw PresetError(quoted(text) + " is no value of " + name + ": write a number " + range);
    if (*value < setting.least || *value > setting.most)
        throw PresetError(name + " goes " + range + ", not to " + quoted(text));
    return *value;
}

std::string valueText(const Setting& setting, double value)
{
    if (setting.kind != Setting::Kind::number)
        return std::string(setting.wordOf(std::clamp(value, setting.least, setting.most)));
    return fixed(std::clamp(value, setting.least, setting.most), setting.decimals) + " " +
           std::string(setting.unitName());
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
    preset.values[std::string(setting->id)] = readValue(*setting, value);
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
    for (const auto& setting : settingTable())
        if (const auto value = preset.values.find(std::string(setting.id)); value != preset.values.end())
            text += std::string(setting.words) + " = " + valueText(setting, value->second) + "\n";
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
