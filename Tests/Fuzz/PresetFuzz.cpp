// Any text as a preset file: read within the ranges of its settings, or refused in one line that names the file. What
// was read writes as a text that reads as the same.
#include "Core/Controls/SettingTable.h"
#include "Plugin/Presets.h"

#include <cstddef>
#include <cstdint>
#include <cstdlib>
#include <string>

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size)
{
    try
    {
        const auto preset = tarry::readPreset({reinterpret_cast<const char*>(data), size}, "any.tarry");
        for (const auto& [id, value] : preset.values)
        {
            const auto* setting = tarry::findSetting(id);
            if (setting == nullptr || !(value >= setting->least && value <= setting->most)) std::abort();
        }
        const auto written = tarry::writePreset(preset);
        const auto again = tarry::readPreset(written, "again.tarry");
        if (again.name != preset.name || tarry::writePreset(again) != written) std::abort();
    }
    catch (const tarry::PresetError& problem)
    {
        const std::string line = problem.what();
        if (line.find("any.tarry") != 0 || line.find('\n') != std::string::npos) std::abort();
    }
    return 0;
}
