#pragma once
#include <filesystem>
#include <string>
#include <vector>

namespace tarry::bench
{
/// Recorded hits of one drum, mono, as they come: no two files of one drum are the same hit.
struct DryDrum
{
    std::string name;
    std::vector<std::vector<double>> hits; ///< pressure, the loudest sample of all of them 1
};

/// Drums from Debian's packages hydrogen-drumkits (a folder of kits) and fluid-soundfont-gm (a SoundFont 2 file); what
/// is not there is left out. All are played at 44.1 kHz: the few recorded at another rate come out as smaller drums.
[[nodiscard]] std::vector<DryDrum> readDryDrums(const std::filesystem::path& kits,
                                                const std::filesystem::path& soundFont);
} // namespace tarry::bench
