#include "DryHits.h"
#include "Recordings.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstdint>
#include <cstring>
#include <fstream>
#include <string_view>

namespace tarry::bench
{
namespace
{
struct KitDrum
{
    std::string_view kit, files; ///< a folder, and what the names of this drum's files begin with
};
constexpr std::array kitDrums{
    KitDrum{"BJA_Pacific", "BD_"},
    KitDrum{"BJA_Pacific", "SN_"},
    KitDrum{"BJA_Pacific", "SN4_"},
    KitDrum{"BJA_Pacific", "TM_"},
    KitDrum{"BJA_Pacific", "TM2_"},
    KitDrum{"ColomboAcousticDrumkit", "bassdrum"},
    KitDrum{"ColomboAcousticDrumkit", "snare-opaque-normal"},
    KitDrum{"ForzeeStereo", "Kick-"},
    KitDrum{"ForzeeStereo", "SnareOff-"},
    KitDrum{"ForzeeStereo", "Snare-"},
    KitDrum{"ForzeeStereo", "TomHigh-"},
    KitDrum{"ForzeeStereo", "TomMid-"},
    KitDrum{"ForzeeStereo", "TomLow-"},
    KitDrum{"Gimme A Hand 1.0", "BongoHi-"},
    KitDrum{"Gimme A Hand 1.0", "BongoLo-"},
    KitDrum{"Gimme A Hand 1.0", "CajonThumps-"},
    KitDrum{"Gimme A Hand 1.0", "CajonSlaps-"},
    KitDrum{"Gimme A Hand 1.0", "WoodBlock-"},
    KitDrum{"Millo_MultiLayered2", "floortom_"},
    KitDrum{"Millo_MultiLayered2", "jsnare_"},
    KitDrum{"Millo_MultiLayered3", "bd_"},
    KitDrum{"Millo_MultiLayered3", "ft_"},
    KitDrum{"Millo_MultiLayered3", "t1_"},
    KitDrum{"The Black Pearl 1.0", "PearlKick-"},
    KitDrum{"The Black Pearl 1.0", "PearlSnare-"},
    KitDrum{"The Black Pearl 1.0", "PearlTom1-"},
    KitDrum{"The Black Pearl 1.0", "PearlTomFloor-"},
    KitDrum{"circAfrique v4", "Djembe2 "},
    KitDrum{"circAfrique v4", "Dununba1 Head"},
    KitDrum{"circAfrique v4", "Sangban1 Head"},
};
constexpr std::array<std::string_view, 8> soundFontDrums{"Taiko Drum(L)",  "Orch Bass Drum(L)", "Long Taiko Hit",
                                                         "Timpani 1(L)",   "Timpani 3(L)",      "Tom Floor(L)",
                                                         "Low Timbale(L)", "High Conga(L)"};

std::vector<double> mono(const Tracks& tracks)
{
    return {tracks.front().begin(), tracks.front().end()}; // the sum of a stereo pair would hold two arrivals
}

std::vector<std::vector<double>> readKitDrum(const std::filesystem::path& kit, std::string_view files)
{
    std::vector<std::filesystem::path> found;
    if (is_directory(kit))
        for (const auto& entry : std::filesystem::directory_iterator(kit))
            if (entry.path().filename().string().starts_with(files)) found.push_back(entry.path());
    std::sort(found.begin(), found.end());
    std::vector<std::vector<double>> hits;
    hits.reserve(found.size());
    double rate = 0.0;
    for (const auto& file : found) hits.push_back(mono(readTracks(file, rate)));
    return hits;
}

template <typename Number>
Number numberAt(const std::vector<char>& bytes, std::size_t place)
{
    Number number{};
    if (place + sizeof number <= bytes.size()) std::memcpy(&number, bytes.data() + place, sizeof number);
    return number;
}

/// Where a chunk's data begin, from its four letters; 0 when it is not there. SoundFont 2.04, chapters 4 and 6.
std::size_t chunk(const std::vector<char>& bytes, std::string_view letters, std::size_t from)
{
    const auto at =
        std::search(bytes.begin() + static_cast<std::ptrdiff_t>(from), bytes.end(), letters.begin(), letters.end());
    return at == bytes.end() ? 0 : static_cast<std::size_t>(at - bytes.begin()) + 8;
}

std::vector<DryDrum> readSoundFont(const std::filesystem::path& file)
{
    std::ifstream stream(file, std::ios::binary);
    const std::vector<char> bytes((std::istreambuf_iterator<char>(stream)), {});
    const auto samples = chunk(bytes, "smpl", 0);
    if (samples == 0) return {};
    const auto headers = chunk(bytes, "shdr", samples + numberAt<std::uint32_t>(bytes, samples - 4));
    if (headers == 0) return {};

    constexpr std::size_t headerSize = 46, nameSize = 20;
    std::vector<DryDrum> drums;
    for (std::size_t i = 0; i < numberAt<std::uint32_t>(bytes, headers - 4) / headerSize; ++i)
    {
        const auto header = headers + i * headerSize;
        const std::string name(bytes.data() + header, strnlen(bytes.data() + header, nameSize));
        if (std::find(soundFontDrums.begin(), soundFontDrums.end(), name) == soundFontDrums.end()) continue;
        auto& drum = drums.emplace_back();
        drum.name = name;
        auto& hit = drum.hits.emplace_back();
        const std::size_t start = numberAt<std::uint32_t>(bytes, header + nameSize);
        const std::size_t end = numberAt<std::uint32_t>(bytes, header + nameSize + 4);
        for (auto s = start; s < end; ++s) hit.push_back(numberAt<std::int16_t>(bytes, samples + 2 * s) / 32768.0);
    }
    return drums;
}

/// At most 1.5 s of each hit, the last 50 ms faded out; the loudest sample of the drum 1.
void trim(DryDrum& drum)
{
    constexpr std::size_t most = 66150, fade = 2205;
    double peak = 1e-9;
    for (const auto& hit : drum.hits)
        for (const double x : hit) peak = std::max(peak, std::abs(x));
    for (auto& hit : drum.hits)
    {
        hit.resize(std::min(hit.size(), most));
        const auto faded = std::min(hit.size(), fade);
        for (std::size_t i = 0; i < faded; ++i)
            hit[hit.size() - 1 - i] *= static_cast<double>(i) / static_cast<double>(faded);
        for (double& x : hit) x /= peak;
    }
}
} // namespace

std::vector<DryDrum> readDryDrums(const std::filesystem::path& kits, const std::filesystem::path& soundFont)
{
    auto drums = readSoundFont(soundFont);
    for (const auto& [kit, files] : kitDrums)
    {
        auto hits = readKitDrum(kits / kit, files);
        if (!hits.empty()) drums.push_back({std::string(kit) + " " + std::string(files), std::move(hits)});
    }
    for (auto& drum : drums) trim(drum);
    return drums;
}
} // namespace tarry::bench
