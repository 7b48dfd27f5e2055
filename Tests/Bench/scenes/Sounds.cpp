#include "Sounds.h"
#include "Patch.h"
#include "Recordings.h"
#include "SoundBank.h"

#include <samplerate.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <functional>

namespace tarry::bench
{
namespace
{
using enum Kind;
using enum SeedSet;
using Hits = std::vector<std::vector<double>>;

/// A drum of a kit of hydrogen-drumkits: what its files' names begin with.
struct KitDrum
{
    SeedSet set;
    Kind kind;
    std::string_view kit, files;
};
constexpr std::array kitDrums{
    KitDrum{training, low, "ForzeeStereo", "Kick-"},
    KitDrum{training, drum, "ForzeeStereo", "SnareOff-"},
    KitDrum{training, drum, "ForzeeStereo", "Snare-"},
    KitDrum{training, drum, "ForzeeStereo", "TomHigh-"},
    KitDrum{training, drum, "ForzeeStereo", "TomMid-"},
    KitDrum{training, drum, "ForzeeStereo", "TomLow-"},
    KitDrum{training, drum, "Millo_MultiLayered2", "floortom_"},
    KitDrum{training, drum, "Millo_MultiLayered2", "jsnare_"},
    KitDrum{training, low, "Millo_MultiLayered3", "bd_"},
    KitDrum{training, drum, "Millo_MultiLayered3", "ft_"},
    KitDrum{training, drum, "Millo_MultiLayered3", "t1_"},
    KitDrum{training, hand, "Gimme A Hand 1.0", "BongoHi-"},
    KitDrum{training, hand, "Gimme A Hand 1.0", "BongoLo-"},
    KitDrum{training, hand, "Gimme A Hand 1.0", "CajonThumps-"},
    KitDrum{training, hand, "Gimme A Hand 1.0", "CajonSlaps-"},
    KitDrum{training, hand, "Gimme A Hand 1.0", "WoodBlock-"},
    KitDrum{development, low, "BJA_Pacific", "BD_"},
    KitDrum{development, drum, "BJA_Pacific", "SN_"},
    KitDrum{development, drum, "BJA_Pacific", "SN4_"},
    KitDrum{development, drum, "BJA_Pacific", "TM_"},
    KitDrum{development, drum, "BJA_Pacific", "TM2_"},
    KitDrum{development, low, "GMRockKit", "Kick-"},
    KitDrum{development, drum, "GMRockKit", "Snare-"},
    KitDrum{development, hand, "GMRockKit", "Cowbell-"},
    KitDrum{development, hand, "circAfrique v4", "Djembe1"},
    KitDrum{development, hand, "circAfrique v4", "Djembe2"},
    KitDrum{development, hand, "circAfrique v4", "Djembe4"},
    KitDrum{development, low, "circAfrique v4", "Dununba1 Head"},
    KitDrum{development, hand, "circAfrique v4", "Sangban1 Head"},
    KitDrum{judging, low, "The Black Pearl 1.0", "PearlKick-"},
    KitDrum{judging, drum, "The Black Pearl 1.0", "PearlSnare-"},
    KitDrum{judging, drum, "The Black Pearl 1.0", "PearlTom1-"},
    KitDrum{judging, drum, "The Black Pearl 1.0", "PearlTomFloor-"},
    KitDrum{judging, low, "ColomboAcousticDrumkit", "bassdrum"},
    KitDrum{judging, drum, "ColomboAcousticDrumkit", "snare-opaque-normal"},
};

/// An instrument of a General MIDI bank: the same places in training's and development's.
struct BankSound
{
    Kind kind;
    std::string_view name;
    int bank, program, firstKey, lastKey, step;
};
constexpr std::array bankSounds{
    BankSound{drum, "snare", 128, 0, 38, 38, 1},
    BankSound{drum, "second snare", 128, 0, 40, 40, 1},
    BankSound{drum, "floor tom", 128, 0, 41, 41, 1},
    BankSound{drum, "middle tom", 128, 0, 47, 47, 1},
    BankSound{drum, "high tom", 128, 0, 50, 50, 1},
    BankSound{drum, "concert snare", 128, 48, 38, 38, 1},
    BankSound{drum, "timbales", 128, 0, 65, 66, 1},
    BankSound{low, "bass drum", 128, 0, 36, 36, 1},
    BankSound{low, "concert bass drum", 128, 48, 36, 36, 1},
    BankSound{low, "taiko", 0, 116, 40, 52, 6},
    BankSound{low, "timpani", 0, 47, 38, 50, 4},
    BankSound{hand, "bongos", 128, 0, 60, 61, 1},
    BankSound{hand, "congas", 128, 0, 62, 64, 1},
    BankSound{hand, "claves", 128, 0, 75, 75, 1},
    BankSound{hand, "wood blocks", 128, 0, 76, 77, 1},
    BankSound{hand, "agogo", 128, 0, 67, 68, 1},
    BankSound{melodic, "glockenspiel", 0, 9, 74, 90, 4},
    BankSound{melodic, "vibraphone", 0, 11, 53, 77, 4},
    BankSound{melodic, "marimba", 0, 12, 48, 84, 6},
    BankSound{melodic, "xylophone", 0, 13, 65, 95, 5},
    BankSound{melodic, "tubular bells", 0, 14, 60, 76, 4},
    BankSound{melodic, "steel drums", 0, 114, 55, 79, 4},
};

/// A patch of freepats, all for judging.
struct PatchSound
{
    Kind kind;
    std::string_view file;
};
constexpr std::array patchSounds{
    PatchSound{drum, "Drum_000/038_Snare_1"},      PatchSound{drum, "Drum_000/040_Snare_2"},
    PatchSound{drum, "Drum_000/041_Tom_Low_2"},    PatchSound{drum, "Drum_000/047_Tom_Mid_1"},
    PatchSound{drum, "Drum_000/065_Timbale_High"}, PatchSound{low, "Drum_000/035_Kick_1"},
    PatchSound{low, "Tone_000/047_Timpani"},       PatchSound{hand, "Drum_000/060_Bongo_High"},
    PatchSound{hand, "Drum_000/061_Bongo_Low"},    PatchSound{hand, "Drum_000/063_Conga_High_2_Open"},
    PatchSound{hand, "Drum_000/064_Conga_Low"},    PatchSound{hand, "Drum_000/076_Wood_Block_1_High"},
    PatchSound{hand, "Drum_000/075_Claves"},       PatchSound{melodic, "Tone_000/009_Glockenspiel"},
    PatchSound{melodic, "Tone_000/013_Xylophone"}, PatchSound{melodic, "Tone_000/014_Tubular_Bells"},
    PatchSound{melodic, "Tone_000/008_Celesta"},   PatchSound{melodic, "Tone_000/114_Steel_Drums"},
};

std::filesystem::path bankFile(const Sounds::Folders& folders, SeedSet set)
{
    const auto file = folders.banks / (set == development ? "TimGM6mb.sf2" : "FluidR3_GM.sf2");
    if (!exists(file))
        throw Lacking(file.string() + " is not there: Debian's package " +
                      (set == development ? "timgm6mb-soundfont" : "fluid-soundfont-gm"));
    return file;
}

/// The loudest sample 1, at most 1.5 s, the last 50 ms faded out.
void trim(Hits& hits)
{
    const auto most = static_cast<std::size_t>(1.5 * soundRate), fade = static_cast<std::size_t>(0.05 * soundRate);
    double peak = 1e-9;
    for (const auto& hit : hits)
        for (const double x : hit) peak = std::max(peak, std::abs(x));
    for (auto& hit : hits)
    {
        hit.resize(std::min(hit.size(), most));
        const auto faded = std::min(hit.size(), fade);
        for (std::size_t i = 0; i < faded; ++i)
            hit[hit.size() - 1 - i] *= static_cast<double>(i) / static_cast<double>(faded);
        for (double& x : hit) x /= peak;
    }
}

std::vector<double> mono(const Tracks& tracks)
{
    std::vector<double> sum(tracks.front().size());
    for (const auto& track : tracks)
        for (std::size_t i = 0; i < sum.size(); ++i) sum[i] += static_cast<double>(track[i]);
    return sum;
}

Hits readKitDrum(const std::filesystem::path& kit, std::string_view files)
{
    if (!is_directory(kit)) throw Lacking(kit.string() + " is not there: Debian's package hydrogen-drumkits");
    std::vector<std::filesystem::path> found;
    for (const auto& entry : std::filesystem::directory_iterator(kit))
        if (entry.path().filename().string().starts_with(files)) found.push_back(entry.path());
    std::sort(found.begin(), found.end());
    if (found.empty()) throw Lacking(kit.string() + " has no files that begin with " + std::string(files));
    if (found.size() > 10) found.resize(10);
    Hits hits;
    for (const auto& file : found)
    {
        double rate = 0.0;
        const auto tracks = readTracks(file, rate);
        hits.push_back(resampled(mono(tracks), rate));
    }
    return hits;
}

Hits readBankSound(const std::filesystem::path& file, const BankSound& sound)
{
    Hits hits;
    int key = sound.firstKey;
    for (int i = 0; i < 6; ++i)
    {
        hits.push_back(playNotes(file, {{sound.bank, sound.program, key, 75 + 10 * i, 0.0, 1.4}}, 1.5, soundRate));
        key = key + sound.step > sound.lastKey ? sound.firstKey : key + sound.step;
    }
    return hits;
}

Hits readPatchSound(const std::filesystem::path& file)
{
    if (!exists(file)) throw Lacking(file.string() + " is not there: Debian's package freepats");
    Hits hits;
    for (const auto& patch : readPatches(file))
        if (patch.root < 2500.0) hits.push_back(resampled(patch.samples, patch.rate));
    return hits;
}

/// An instrument that was recorded once is never hit alike twice: a little higher, a little lower.
void vary(Hits& hits)
{
    if (hits.size() > 1) return;
    const auto once = hits.front();
    hits.clear();
    for (const double pitch : {0.985, 0.992, 1.0, 1.007, 1.015}) hits.push_back(resampled(once, soundRate * pitch));
}
} // namespace

std::vector<double> resampled(const std::vector<double>& samples, double rate)
{
    if (rate == soundRate || samples.empty()) return samples;
    std::vector<float> in(samples.begin(), samples.end());
    std::vector<float> out(static_cast<std::size_t>(static_cast<double>(in.size()) * soundRate / rate) + 1);
    SRC_DATA data{};
    data.data_in = in.data();
    data.input_frames = static_cast<long>(in.size());
    data.data_out = out.data();
    data.output_frames = static_cast<long>(out.size());
    data.src_ratio = soundRate / rate;
    if (const int trouble = src_simple(&data, SRC_SINC_MEDIUM_QUALITY, 1); trouble != 0)
        throw std::runtime_error(src_strerror(trouble));
    return {out.begin(), out.begin() + data.output_frames_gen};
}

std::shared_ptr<const Instrument> Sounds::pick(Kind kind, SeedSet set, unsigned n) const
{
    if (only) return only;
    struct Choice
    {
        std::string name;
        std::function<Hits()> load;
    };
    std::vector<Choice> choices;
    for (const auto& one : kitDrums)
        if (one.set == set && one.kind == kind)
            choices.push_back({std::string(one.kit) + " " + std::string(one.files),
                               [this, &one] { return readKitDrum(folders.kits / one.kit, one.files); }});
    if (set == judging)
    {
        for (const auto& one : patchSounds)
            if (one.kind == kind)
                choices.push_back({std::string(one.file), [this, &one]
                                   { return readPatchSound(folders.patches / (std::string(one.file) + ".pat")); }});
    }
    else
        for (const auto& one : bankSounds)
            if (one.kind == kind)
                choices.push_back({std::string(one.name) + (set == training ? " of fluid" : " of timgm6mb"),
                                   [this, &one, set] { return readBankSound(bankFile(folders, set), one); }});

    const auto& choice = choices[n % choices.size()];
    const std::scoped_lock guard(lock);
    auto& kept = loaded[choice.name];
    if (!kept)
    {
        auto hits = choice.load();
        vary(hits);
        trim(hits);
        kept = std::make_shared<const Instrument>(Instrument{choice.name, std::move(hits)});
    }
    return kept;
}

std::vector<std::vector<double>> Sounds::orchestra(SeedSet set, double seconds, hall::Random& random) const
{
    // Each set has its own: two sections of strings, two of brass (judging: other programs of training's bank).
    struct Section
    {
        int program, lowest, highest;
    };
    constexpr std::array<Section, 4> usual{{{48, 48, 67}, {49, 60, 84}, {61, 48, 65}, {60, 45, 62}}};
    constexpr std::array<Section, 4> others{{{44, 48, 67}, {40, 64, 86}, {57, 43, 60}, {56, 60, 76}}};
    std::vector<std::vector<double>> sounds;
    for (const auto& section : set == judging ? others : usual)
    {
        std::vector<Note> notes;
        for (double at = random.between(-0.5, 0.0); at < seconds;)
        {
            const double length = random.between(0.6, 2.5);
            for (int i = 0; i < 3; ++i)
                notes.push_back({0, section.program, random.wholeBetween(section.lowest, section.highest),
                                 random.wholeBetween(60, 115), std::max(0.0, at + random.between(-0.02, 0.02)),
                                 length});
            at += length;
        }
        sounds.push_back(playNotes(bankFile(folders, set), notes, seconds, soundRate));
    }
    return sounds;
}
} // namespace tarry::bench
