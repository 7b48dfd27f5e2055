#include "Players.h"

namespace tarry::bench
{
namespace
{
template <Kind kind, int decibels>
Example make(const Tier& tier, unsigned seed, const Material& material)
{
    return beside(tier, seed, material, kind, makeHallSpace, decibels);
}

/// Anybody beside anybody, as loud as it happens.
Example anybody(const Tier& tier, unsigned seed, const Material& material)
{
    hall::Random random(seed, Stream::others + 1);
    return beside(tier, seed, material, mixedKind(seed), makeHallSpace, random.between(-14.0, 4.0));
}
} // namespace

const std::vector<Tier>& neighbourTiers()
{
    static const std::vector<Tier> tiers{
        {"neighbours", "wide-neighbour-6", ">= 0.97", 90, 1, make<Kind::drum, -6>},
        {"neighbours", "wide-neighbour-low", ">= 0.95", 91, 1, make<Kind::low, -6>},
        {"neighbours", "wide-neighbour-0", ">= 0.95", 92, 1, make<Kind::drum, 0>},
        {"neighbours", "wide-neighbour-any", "", 93, 1, anybody},
    };
    return tiers;
}
} // namespace tarry::bench
