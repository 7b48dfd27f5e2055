#include "Hall/Scene.h"
#include "Spoil.h"
#include "Tier.h"

#include <algorithm>
#include <array>
#include <random>

namespace tarry::bench
{
namespace
{
using hall::SceneSpec;

double drawn(std::mt19937& engine, double low, double high) // the engine's own bits: the same with every library
{
    return low + (high - low) * static_cast<double>(engine()) / 4294967296.0;
}

/// Everything that can differ between sessions drawn wide: what the other tiers leave at a default.
void shapeWild(SceneSpec& spec, MeasureSettings&)
{
    std::mt19937 engine(spec.seed);
    constexpr std::array names{"player", "low", "roll", "neighbour", "neighbour-low"};
    spec.name = names[static_cast<std::size_t>(drawn(engine, 0.0, names.size()))];
    spec.hits = static_cast<int>(drawn(engine, 1.0, 17.0));
    spec.neighbourDb = drawn(engine, -12.0, 3.0);
    spec.roomNoiseDb = drawn(engine, -60.0, -30.0);
    spec.spotNoiseDb = drawn(engine, -75.0, -45.0);
    spec.extended = drawn(engine, 0.0, 1.0);
    spec.distance = drawn(engine, 3.0, 20.0);
    spec.t60 = drawn(engine, 0.6, 3.5);
}
/// A tier and how its scenes come to be: from the defaults to what it needs, then what happens after the microphones.
struct Recipe
{
    std::string_view name, goal;
    unsigned number;
    double share;
    void (*shape)(SceneSpec&, MeasureSettings&); ///< sees the seed
    void (*spoil)(Example&) = nullptr;
};

using L = MeasureSettings;
const std::vector<Recipe>& recipes()
{
    static const std::vector<Recipe> all{
        {"hall", ">= 0.99, 0.90 in 0.1", 1, 1, [](SceneSpec&, L&) {}},
        {"low", ">= 0.99", 2, 1, [](SceneSpec& s, L&) { s.name = "low"; }},
        {"one-hit", ">= 0.99", 3, 1, [](SceneSpec& s, L&) { s.name = "one-hit"; }},
        {"clap", ">= 0.99", 4, 1,
         [](SceneSpec& s, L& l)
         {
             s.name = "clap";
             l.clap = true;
         }},
        {"roll", ">= 0.98", 5, 1, [](SceneSpec& s, L&) { s.name = "roll"; }},
        {"leak-40", ">= 0.99", 6, 1,
         [](SceneSpec& s, L&)
         {
             s.name = "leak";
             s.leakDb = -40.0;
         }},
        {"leak-25", ">= 0.99", 7, 1,
         [](SceneSpec& s, L&)
         {
             s.name = "leak";
             s.leakDb = -25.0;
         }},
        {"late-spot", ">= 0.99", 8, 1,
         [](SceneSpec& s, L& l)
         {
             s.name = "late";
             l.lookAhead = 0.030;
         }},
        {"neighbour-6", ">= 0.99", 9, 1, [](SceneSpec& s, L&) { s.name = "neighbour"; }},
        {"neighbour-6-low", ">= 0.95", 10, 1, [](SceneSpec& s, L&) { s.name = "neighbour-low"; }},
        {"neighbour-0", ">= 0.92", 11, 1,
         [](SceneSpec& s, L&)
         {
             s.name = "neighbour";
             s.neighbourDb = 0.0;
         }},
        {"neighbour-0-low", "", 12, 1,
         [](SceneSpec& s, L&)
         {
             s.name = "neighbour-low";
             s.neighbourDb = 0.0;
         }},
        {"ensemble", ">= 0.95 not align", 13, 1, [](SceneSpec& s, L&) { s.name = "ensemble"; }},
        {"unrelated", "1.00 not align", 14, 1, [](SceneSpec& s, L&) { s.name = "unrelated"; }},
        {"rate-44", ">= 0.99", 15, 0.3, [](SceneSpec& s, L&) { s.sampleRate = 44100.0; }},
        {"rate-48", ">= 0.99", 16, 0.3, [](SceneSpec& s, L&) { s.sampleRate = 48000.0; }},
        {"rate-88", ">= 0.99", 17, 0.3, [](SceneSpec& s, L&) { s.sampleRate = 88200.0; }},
        {"rate-96", ">= 0.99", 18, 0.3, [](SceneSpec& s, L&) { s.sampleRate = 96000.0; }},
        {"rate-176", ">= 0.99", 19, 0.2, [](SceneSpec& s, L&) { s.sampleRate = 176400.0; }},
        {"rate-192", ">= 0.99", 20, 0.2, [](SceneSpec& s, L&) { s.sampleRate = 192000.0; }},
        {"hum", "", 21, 0.5, [](SceneSpec&, L&) {}, addHum},
        {"clipped", "", 22, 0.5, [](SceneSpec&, L&) {}, clipSpot},
        {"gated", "", 23, 0.5, [](SceneSpec&, L&) {}, gateSpot},
        {"drift", "", 24, 0.3, [](SceneSpec& s, L&) { s.hits = 24; }, drift},
        {"array", "", 27, 0.5, [](SceneSpec& s, L&) { s.roomChannels = 3; }},
        {"wild", "", 25, 1, shapeWild},
    };
    return all;
}

Example make(const Tier& tier, unsigned seed, const Material&)
{
    const auto recipe = std::find_if(recipes().begin(), recipes().end(),
                                     [&tier](const Recipe& one) { return one.number == tier.number; });
    SceneSpec spec;
    spec.seed = seed;
    Example example;
    recipe->shape(spec, example.settings);
    auto scene = hall::makeScene(spec);
    example.family = tier.family;
    example.tier = tier.name;
    example.name = spec.name + " " + std::to_string(seed);
    example.seed = seed;
    example.settings.sampleRate = spec.sampleRate;
    example.spot = std::move(scene.spot);
    example.room = std::move(scene.room);
    example.hitTimes = scene.truth.hitTimes;
    if (scene.truth.hasOneLag)
    {
        const auto& lags = scene.truth.channelLags;
        example.firstChannel = static_cast<std::size_t>(std::min_element(lags.begin(), lags.end()) - lags.begin());
        example.lag = lags[example.firstChannel];
        example.polarity = scene.truth.polarity;
    }
    if (recipe->spoil != nullptr) recipe->spoil(example);
    example.earliest = -example.settings.lookAhead;
    return example;
}
} // namespace

const std::vector<Tier>& hallTiers()
{
    static const auto tiers = []
    {
        std::vector<Tier> all;
        for (const auto& recipe : recipes())
            all.push_back({"halls", recipe.name, recipe.goal, recipe.number, recipe.share, make});
        return all;
    }();
    return tiers;
}
} // namespace tarry::bench
