#pragma once
#include "Hall/Random.h"
#include "Tier.h"

#include <map>
#include <memory>
#include <mutex>

namespace tarry::bench
{
inline constexpr double soundRate = 48000.0; // Hz, of every scene but those of `halls`

/// Recorded hits of one instrument, mono: no two of them are the same hit.
struct Instrument
{
    std::string name;
    std::vector<std::vector<double>> hits; ///< pressure, the loudest sample of all of them 1
};

enum class Kind
{
    drum,   ///< snare drums, toms
    low,    ///< bass drums, timpani, taiko
    hand,   ///< congas, bongos, djembes, cajons, wood and metal struck by hand
    melodic ///< bars, plates, pans, bells: several notes
};

/// Recorded instruments out of Debian's packages. Training hears fluid-soundfont-gm and some of hydrogen-drumkits,
/// development timgm6mb-soundfont and others of the kits, judging freepats and the rest of them.
class Sounds
{
public:
    struct Folders
    {
        std::filesystem::path kits = "/usr/share/hydrogen/data/drumkits";
        std::filesystem::path banks = "/usr/share/sounds/sf2";
        std::filesystem::path patches = "/usr/share/midi/freepats";
    };
    explicit Sounds(Folders where) : folders(std::move(where)) {}
    /// Every pick is this one: to test scenes with.
    explicit Sounds(Instrument one) : only(std::make_shared<const Instrument>(std::move(one))) {}

    /// One of the set's instruments of that kind: the n-th of them, round and round. Throws Lacking where its package
    /// is not installed.
    [[nodiscard]] std::shared_ptr<const Instrument> pick(Kind kind, SeedSet set, unsigned n) const;

    /// Strings and brass in held chords that change every few seconds, each section apart. Throws Lacking.
    [[nodiscard]] std::vector<std::vector<double>> orchestra(SeedSet set, double seconds, hall::Random& random) const;

private:
    Folders folders;
    std::shared_ptr<const Instrument> only;
    mutable std::mutex lock;
    mutable std::map<std::string, std::shared_ptr<const Instrument>> loaded;
};

/// `samples` as they sound at soundRate.
[[nodiscard]] std::vector<double> resampled(const std::vector<double>& samples, double rate);
} // namespace tarry::bench
