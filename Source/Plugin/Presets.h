#pragma once
#include <map>
#include <stdexcept>
#include <string>
#include <string_view>
#include <vector>

namespace tarry
{
/// Settings for a usual job. Sets what it names and leaves the rest; it never holds a lag or a polarity.
///
/// As text, a line for each setting, in the words of the screen:
///
///     # whatever helps to choose
///     name = Room leads by 10 ms
///     lean = 10 ms
struct Preset
{
    std::string name;
    std::map<std::string, double> values; ///< by the setting's id, in its own unit; switches 0 or 1

    bool operator==(const Preset&) const = default;
};

/// What is wrong with a preset: one line that names the file and the line.
class PresetError : public std::runtime_error
{
    using std::runtime_error::runtime_error;
};

/// file: its name, for messages and, without its ending, where the text gives no name. Throws PresetError.
[[nodiscard]] Preset readPreset(std::string_view text, const std::string& file);

/// Text that readPreset reads back.
[[nodiscard]] std::string writePreset(const Preset& preset);

/// Name of a preset that would not survive as text: line breaks and outer blanks go.
[[nodiscard]] std::string asPresetName(std::string_view wish);

/// The project's own, in the order in which they are offered; read once.
[[nodiscard]] const std::vector<Preset>& ownPresets();

/// A file of Presets/, built in: see Presets/CMakeLists.txt.
struct PresetFile
{
    const char* name;
    const char* text;
};
[[nodiscard]] const std::vector<PresetFile>& ownPresetFiles();

inline constexpr const char* presetEnding = ".tarry";
} // namespace tarry
