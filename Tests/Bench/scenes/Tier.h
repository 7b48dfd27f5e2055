#pragma once
#include "Example.h"

#include <filesystem>
#include <stdexcept>
#include <string>
#include <string_view>
#include <vector>

namespace tarry::bench
{
class Sounds;
class MeasuredRooms;

/// Training seeds may shape the estimator and its confidence; development seeds compare one estimator with the next, as
/// often as one likes; judging seeds are for the published table alone. Recorded instruments and measured rooms are
/// parted the same way: what one set has heard, no other hears.
enum class SeedSet
{
    training,
    development,
    judging
};
[[nodiscard]] std::string_view word(SeedSet set);

/// A tier has at most so many seeds in each set: first, first + 1, … The ranges of no two tiers or sets meet.
inline constexpr unsigned seedsPerTier = 1000;

/// What scenes are made of, loaded where it is first needed. Several threads.
struct Material
{
    const Sounds& sounds;
    const MeasuredRooms& rooms;
};

/// Thrown where a scene needs what this machine lacks: the tier is skipped, and the line printed.
struct Lacking : std::runtime_error
{
    using std::runtime_error::runtime_error;
};

/// What a tier's scenes are like.
struct Tier
{
    std::string_view family, name;
    std::string_view goal; ///< share within 0.5 ms unless it says otherwise; empty: none was set
    unsigned number;       ///< decides the seeds: never change it once used
    double share;          ///< scenes of this tier for each one asked for
    Example (*make)(const Tier&, unsigned seed, const Material&); ///< the same samples every time. Several threads
};

/// The tiers of each family, in the order of the tables.
[[nodiscard]] const std::vector<Tier>& hallTiers();       ///< made-up drums in Source/Hall's halls
[[nodiscard]] const std::vector<Tier>& neighbourTiers();  ///< the same with others playing, everything drawn wide
[[nodiscard]] const std::vector<Tier>& unseenTiers();     ///< a hall of another making (see OtherHall.h)
[[nodiscard]] const std::vector<Tier>& instrumentTiers(); ///< recorded instruments in made-up halls
[[nodiscard]] const std::vector<Tier>& bodyTiers();       ///< instruments that are no points, in both kinds of hall
[[nodiscard]] const std::vector<Tier>& roomTiers();       ///< recorded instruments in measured rooms
[[nodiscard]] const std::vector<Tier>& stageTiers();      ///< what happens on stages and at desks
[[nodiscard]] const std::vector<Tier>& sectionTiers();    ///< several players in front of one spot
[[nodiscard]] const std::vector<Tier>& lateTiers();       ///< the spot later than the room
[[nodiscard]] const std::vector<Tier>& aloneTiers();      ///< spot and room that have nothing in common
[[nodiscard]] const std::vector<Tier>& stereoTiers();     ///< spots of two sides
[[nodiscard]] const std::vector<Tier>& twoLagTiers();     ///< a stand that was moved

/// All of them.
[[nodiscard]] const std::vector<Tier>& allTiers();

/// The first seed of a tier's range, and back.
[[nodiscard]] unsigned firstSeed(const Tier& tier, SeedSet set);
[[nodiscard]] SeedSet setOf(unsigned seed);

/// The goal of any tier, made-up or real.
[[nodiscard]] std::string_view goalOf(std::string_view tier);
} // namespace tarry::bench
