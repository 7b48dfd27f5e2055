// Any text as a plugin's saved state: read within the ranges of its settings, or refused. What was read and written
// once reads as the same.
#include "Core/Controls/SettingTable.h"
#include "Plugin/State.h"

#include <cmath>
#include <cstddef>
#include <cstdint>
#include <cstdlib>

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size)
{
    const auto state = tarry::readState({reinterpret_cast<const char*>(data), size});
    if (!state) return 0;
    for (const auto& [id, value] : state->settings)
    {
        const auto* setting = tarry::findSetting(id);
        if (setting == nullptr || !(value >= setting->least && value <= setting->most)) std::abort();
    }
    if (state->follow.held)
        for (const auto& side : state->follow.held->side)
            if (!std::isfinite(side.lag)) std::abort();
    if (!(state->follow.confidence >= 0.0 && state->follow.confidence <= 1.0)) std::abort();
    const auto written = tarry::writeState(*state);
    const auto again = tarry::readState(written);
    if (!again || tarry::writeState(*again) != written) std::abort();
    return 0;
}
