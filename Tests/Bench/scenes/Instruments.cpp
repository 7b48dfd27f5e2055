#include "Players.h"

namespace tarry::bench
{
namespace
{
template <Kind kind>
Example make(const Tier& tier, unsigned seed, const Material& material)
{
    return soloist(tier, seed, material, kind, makeHallSpace);
}
} // namespace

const std::vector<Tier>& instrumentTiers()
{
    static const std::vector<Tier> tiers{
        {"instruments", "drums", ">= 0.99", 50, 1, make<Kind::drum>},
        {"instruments", "low-drums", "", 51, 1, make<Kind::low>},
        {"instruments", "hand", ">= 0.99", 52, 1, make<Kind::hand>},
        {"instruments", "melodic", ">= 0.97", 53, 1, make<Kind::melodic>},
    };
    return tiers;
}
} // namespace tarry::bench
