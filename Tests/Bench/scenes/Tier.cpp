#include "Tier.h"

#include <array>

namespace tarry::bench
{
namespace
{
constexpr std::array<unsigned, 3> firstOfSet{100'000, 600'000, 1'100'000}; // fit.py knows them too
} // namespace

std::string_view word(SeedSet set)
{
    constexpr std::array<std::string_view, 3> words{"training", "development", "judging"};
    return words.at(static_cast<std::size_t>(set));
}

const std::vector<Tier>& allTiers()
{
    static const auto all = []
    {
        std::vector<Tier> tiers;
        for (const auto* family :
             {&hallTiers(), &neighbourTiers(), &unseenTiers(), &instrumentTiers(), &bodyTiers(), &roomTiers(),
              &stageTiers(), &sectionTiers(), &lateTiers(), &aloneTiers(), &stereoTiers(), &twoLagTiers()})
            tiers.insert(tiers.end(), family->begin(), family->end());
        return tiers;
    }();
    return all;
}

unsigned firstSeed(const Tier& tier, SeedSet set)
{
    return firstOfSet.at(static_cast<std::size_t>(set)) + tier.number * seedsPerTier;
}

SeedSet setOf(unsigned seed)
{
    return seed < firstOfSet[1] ? SeedSet::training : seed < firstOfSet[2] ? SeedSet::development : SeedSet::judging;
}

std::string_view goalOf(std::string_view tier)
{
    for (const auto& one : allTiers())
        if (one.name == tier) return one.goal;
    if (tier == "real-a") return "1.00, 0.80 in 0.1";
    if (tier == "real-neighbours-a") return "1.00";
    if (tier == "bass-drum") return "within 1.5 ms, honest";
    return "";
}
} // namespace tarry::bench
