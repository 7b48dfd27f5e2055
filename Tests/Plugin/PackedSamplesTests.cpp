#include "Plugin/PackedSamples.h"

#include "Support/Catch.h"

#include <nlohmann/json.hpp>

#include <cmath>

using namespace tarry;

TEST_CASE("packed samples: back to within half a step of 16 bits of the largest, silence and nothing included")
{
    std::vector<float> wave(1000);
    for (std::size_t i = 0; i < wave.size(); ++i) wave[i] = 0.003F * std::sin(0.1F * static_cast<float>(i));
    for (const auto& each : {wave, std::vector<float>(10, 0.0F), std::vector<float>{}})
    {
        std::vector<float> back{1.0F};
        REQUIRE(unpackSamples(packSamples(each), back));
        REQUIRE(back.size() == each.size());
        for (std::size_t i = 0; i < each.size(); ++i) CHECK(std::abs(back[i] - each[i]) <= 0.51F * 0.003F / 32767.0F);
    }
}

TEST_CASE("packed samples: what is no such thing is refused, and leaves what was there")
{
    const auto good = packSamples({0.5F, -0.25F});
    for (const auto& bad :
         {nlohmann::json(), nlohmann::json(3), nlohmann::json{{"peak", 1.0}},
          nlohmann::json{{"peak", "loud"}, {"i16", good["i16"]}}, nlohmann::json{{"peak", 1.0}, {"i16", "AA=="}},
          nlohmann::json{{"peak", 1.0}, {"i16", "AAAA"}}})
    {
        std::vector<float> samples{0.125F};
        INFO(bad.dump());
        CHECK_FALSE(unpackSamples(bad, samples));
        CHECK(samples == std::vector<float>{0.125F});
    }
}
