#include "Players.h"

namespace tarry::bench
{
namespace
{
template <Kind kind>
Example alone(const Tier& tier, unsigned seed, const Material& material)
{
    return soloist(tier, seed, material, kind, makeOtherSpace);
}

template <Kind kind, int decibels>
Example neighbour(const Tier& tier, unsigned seed, const Material& material)
{
    return beside(tier, seed, material, kind, makeOtherSpace, decibels);
}

template <int decibels>
Example orchestra(const Tier& tier, unsigned seed, const Material& material)
{
    return amidOrchestra(tier, seed, material, makeOtherSpace, decibels);
}

Example rolled(const Tier& tier, unsigned seed, const Material& material)
{
    return roll(tier, seed, material, makeOtherSpace);
}
} // namespace

const std::vector<Tier>& unseenTiers()
{
    static const std::vector<Tier> tiers{
        {"unseen", "unseen-drums", ">= 0.99", 120, 1, alone<Kind::drum>},
        {"unseen", "unseen-low", "", 121, 1, alone<Kind::low>},
        {"unseen", "unseen-hand", ">= 0.99", 122, 1, alone<Kind::hand>},
        {"unseen", "unseen-melodic", ">= 0.97", 123, 1, alone<Kind::melodic>},
        {"unseen", "unseen-roll", ">= 0.98", 124, 1, rolled},
        {"unseen", "unseen-neighbour-6", ">= 0.97", 125, 1, neighbour<Kind::drum, -6>},
        {"unseen", "unseen-neighbour-low", ">= 0.95", 126, 1, neighbour<Kind::low, -6>},
        {"unseen", "unseen-neighbour-0", ">= 0.95", 127, 1, neighbour<Kind::drum, 0>},
        {"unseen", "unseen-orchestra-0", ">= 0.85", 128, 1, orchestra<0>},
    };
    return tiers;
}
} // namespace tarry::bench
