#include "Rooms.h"
#include "Players.h"
#include "Recordings.h"

#include <array>
#include <cmath>

namespace tarry::bench
{
namespace
{
using hall::Random;

struct Place
{
    std::string_view begins; ///< a file's name
    SeedSet set;
};
constexpr std::array places{
    Place{"warehouse", SeedSet::training},
    Place{"openair_large_church", SeedSet::training},
    Place{"openair_arthur", SeedSet::development},
    Place{"openair_large_hall", SeedSet::development},
    Place{"openair_sportscentre", SeedSet::development},
    Place{"openair_jack", SeedSet::judging},
    Place{"openair_medium_hall", SeedSet::judging},
};

/// The response with its onset at `onset` s: cut or delayed in front, by whole samples. `exact` becomes what came of
/// it.
std::vector<double> shifted(const MeasuredRoom& room, double onset, double& exact)
{
    const auto by = static_cast<std::ptrdiff_t>(std::lround((onset - room.onset) * soundRate));
    std::vector<double> moved;
    if (by >= 0)
    {
        moved.assign(static_cast<std::size_t>(by), 0.0);
        moved.insert(moved.end(), room.response.begin(), room.response.end());
    }
    else
        moved.assign(room.response.begin() - by, room.response.end());
    exact = room.onset + static_cast<double>(by) / soundRate;
    return moved;
}

/// A close microphone: the instrument and, far below it, the room.
std::vector<double> closeUp(const std::vector<double>& room, double roomOnset, Random& random)
{
    double energy = 1e-30;
    for (const double x : room) energy += x * x;
    const double level = fromDb(random.between(-34.0, -20.0)) / std::sqrt(energy);
    std::vector<double> close(room.size());
    close[0] = 1.0;
    const auto from = static_cast<std::size_t>(std::max(0.0, roomOnset - 0.004) * soundRate); // walls are not far off
    for (std::size_t i = from; i < room.size(); ++i) close[i - from] += level * room[i];
    return close;
}

Example finished(const Tier& tier, unsigned seed, const Take& take, const Instrument& instrument,
                 const MeasuredRoom& room, double lag)
{
    Random random(seed, Stream::finishing);
    auto example = begin(tier, seed);
    example.name += " " + instrument.name + " in " + room.file;
    Take::Finish finish;
    finish.inverted = random.coin();
    finish.roomNoiseDb = random.between(-62.0, -42.0);
    example.lag = lag;
    if (room.polarity)
        example.polarity =
            (*room.polarity == Polarity::inverted) != finish.inverted ? Polarity::inverted : Polarity::normal;
    take.finish(example, finish, random);
    return example;
}

template <Kind kind>
Example alone(const Tier& tier, unsigned seed, const Material& material)
{
    Random random(seed, Stream::layout);
    const auto player = aPlayer(kind, seed, material);
    const auto room = material.rooms.pick(setOf(seed), seed);
    double lag = 0.0;
    const auto far = shifted(*room, random.between(0.006, 0.055), lag);
    const double seconds = player.strokes.back().time + 1.6;
    Take take(seconds, 1, 1);
    take.add(take.through({closeUp(far, lag, random), far}, sound(*player.instrument, player.strokes, seconds)), 1.0);

    return finished(tier, seed, take, *player.instrument, *room, lag);
}

/// Two players, each through another response of the same place where there is one, else through the same, later.
Example neighbour(const Tier& tier, unsigned seed, const Material& material)
{
    Random random(seed, Stream::layout);
    const auto set = setOf(seed);
    const auto player = aPlayer(Kind::drum, seed, material);
    const auto room = material.rooms.pick(set, seed), elsewhere = material.rooms.pick(set, seed / 3 + 1, room->place);
    double lag = 0.0, other = 0.0;
    const auto far = shifted(*room, random.between(0.006, 0.055), lag);
    const auto away = random.between(1.2, 5.0) / 343.0; // s from the neighbour to the spot
    const auto otherFar = shifted(*elsewhere, std::max(0.004, lag + random.between(-0.9, 0.9) * away), other);
    std::vector<double> leak(otherFar.size());
    leak[static_cast<std::size_t>(away * soundRate)] = 1.0;
    const double seconds = player.strokes.back().time + 1.6;
    Take take(seconds, 1, 1);
    const auto own = take.through({closeUp(far, lag, random), far}, sound(*player.instrument, player.strokes, seconds));
    take.add(own, 1.0);
    const auto instrument = material.sounds.pick(Kind::drum, set, seed * 7 + 3);
    const auto strokes =
        playFreely(*instrument, random.wholeBetween(7, 10), 0.3, player.strokes.back().time + 0.3, random);
    auto heard = take.through({leak, otherFar}, sound(*instrument, strokes, seconds));
    const double perHit = static_cast<double>(strokes.size()) / static_cast<double>(player.strokes.size());
    const std::array below{-18.0, -6.0}; // dB, hit for hit: in the spot, in the room
    for (std::size_t m = 0; m < heard.size(); ++m)
    {
        const double gain = fromDb(below[m]) * std::sqrt(perHit * take.loudness(own, m) / take.loudness(heard, m));
        for (auto& bin : heard[m]) bin *= gain;
    }
    take.add(heard, 1.0);

    return finished(tier, seed, take, *player.instrument, *room, lag);
}
} // namespace

void MeasuredRooms::load() const
{
    if (!rooms.empty()) return;
    if (root.empty() || !exists(root / "manifest.csv"))
        throw Lacking("no measured rooms: --rooms takes a folder with a manifest.csv");
    for (const auto& row : readTable(root / "manifest.csv"))
    {
        auto room = std::make_shared<MeasuredRoom>();
        room->file = row.at("file");
        double rate = 0.0;
        const auto tracks = readTracks(root / room->file, rate);
        room->response = resampled({tracks.front().begin(), tracks.front().end()}, rate);
        room->onset = std::stod(row.at("onset_10pct_ms")) / 1000.0;
        for (const auto& place : places)
            if (room->file.starts_with(place.begins)) room->place = place.begins;
        if (row.at("first_lobe_sign") == row.at("first_lobe_sign_lp2k"))
            room->polarity = row.at("first_lobe_sign") == "1" ? Polarity::normal : Polarity::inverted;
        rooms.push_back(std::move(room));
    }
}

std::shared_ptr<const MeasuredRoom> MeasuredRooms::pick(SeedSet set, unsigned n, const std::string& place) const
{
    const std::scoped_lock guard(lock);
    load();
    std::vector<std::shared_ptr<const MeasuredRoom>> ofSet;
    for (const auto& room : rooms)
        for (const auto& one : places)
            if (one.set == set && room->place == one.begins && (place.empty() || room->place == place))
                ofSet.push_back(room);
    if (ofSet.empty()) throw Lacking("the folder of measured rooms has none for " + std::string(word(set)));
    return ofSet[n % ofSet.size()];
}

const std::vector<Tier>& roomTiers()
{
    static const std::vector<Tier> tiers{
        {"rooms", "rooms-drums", ">= 0.97", 40, 1, alone<Kind::drum>},
        {"rooms", "rooms-low", "", 41, 1, alone<Kind::low>},
        {"rooms", "rooms-hand", ">= 0.97", 42, 1, alone<Kind::hand>},
        {"rooms", "rooms-melodic", ">= 0.97", 43, 1, alone<Kind::melodic>},
        {"rooms", "rooms-neighbour", "", 44, 1, neighbour},
    };
    return tiers;
}
} // namespace tarry::bench
