#pragma once
#include "Host/RawPlugin.h"

namespace tarry::host
{
/// The built .vst3 bundle through the format's own interfaces, with nothing of JUCE's on the host's side: what is
/// counted in a block is the plugin's. @throws std::runtime_error where it cannot be loaded
[[nodiscard]] std::unique_ptr<RawPlugin> loadRawVst3(const std::string& bundle);

/// A class of the bundle's factory, as moduleinfo.json has to describe it.
struct FactoryClass
{
    std::string cid, category, name, vendor, version, sdkVersion, subCategories;
};
[[nodiscard]] std::vector<FactoryClass> vst3Classes(const std::string& bundle);

/// Whether each parameter that chooses the preset is one that a host shows as a list.
[[nodiscard]] std::vector<bool> vst3ProgramsAreLists(const std::string& bundle);
} // namespace tarry::host
