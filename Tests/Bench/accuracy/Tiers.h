#pragma once
#include "Hall/Scene.h"
#include "Trial.h"

#include <string>
#include <string_view>
#include <vector>

namespace tarry::bench
{
/// Training seeds may shape the estimator and its confidence; judging seeds only tell how good it is.
enum class SeedSet
{
    training,
    judging
};

/// A tier has at most so many seeds in each set: first, first + 1, … The ranges of no two tiers or sets meet.
inline constexpr unsigned seedsPerTier = 1000;

/// What a tier's scenes are like.
struct Tier
{
    std::string_view name;
    std::string_view goal; ///< share within 0.5 ms unless it says otherwise; empty: none was set
    unsigned number;       ///< decides the seeds: never change it once used
    double share;          ///< scenes of this tier for each one asked for
    void (*shape)(hall::SceneSpec&, MeasureSettings&); ///< from the defaults to what the tier needs; sees the seed
    void (*spoil)(Trial&) = nullptr;                   ///< what happens to the tracks after the microphones
};

/// Made-up tiers, in the order of the table.
[[nodiscard]] const std::vector<Tier>& madeUpTiers();

/// The tier of recorded hits (see Recorded.h): name, goal, seeds. It has no shape.
[[nodiscard]] const Tier& recordedTier();

/// The first seed of a tier's range.
[[nodiscard]] unsigned firstSeed(const Tier& tier, SeedSet set);

/// Makes a scene. rate: Hz, for the tiers that do not have a rate of their own. Thread-safe.
[[nodiscard]] Trial makeTrial(const Tier& tier, unsigned seed, double rate);

/// The goal of any tier, made-up or real.
[[nodiscard]] std::string_view goalOf(std::string_view tier);
} // namespace tarry::bench
