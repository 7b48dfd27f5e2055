#include "Plugin/PackedSamples.h"

#include "Plugin/Base64.h"

#include <nlohmann/json.hpp>

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <cstdint>
#include <string>

namespace tarry
{
namespace
{
constexpr std::size_t longest = 1000000; // samples of any one stretch that is read back
}

nlohmann::json packSamples(const std::vector<float>& samples)
{
    float peak = 0.0F;
    for (const float x : samples) peak = std::max(peak, std::abs(x));
    std::vector<std::uint8_t> bytes;
    bytes.reserve(2 * samples.size());
    for (const float x : samples)
    {
        const auto value = static_cast<std::int16_t>(peak > 0.0F ? std::lround(x / peak * 32767.0F) : 0);
        const auto word = static_cast<std::uint16_t>(value);
        bytes.push_back(static_cast<std::uint8_t>(word & 255U));
        bytes.push_back(static_cast<std::uint8_t>(word >> 8U));
    }
    return {{"peak", peak}, {"i16", toBase64(bytes)}};
}

bool unpackSamples(const nlohmann::json& from, std::vector<float>& samples)
{
    if (!from.is_object() || !from.contains("peak") || !from.contains("i16")) return false;
    const auto &peak = from["peak"], &text = from["i16"];
    if (!peak.is_number() || !text.is_string()) return false;
    const auto bytes = fromBase64(text.get_ref<const std::string&>());
    const float scale = peak.get<float>();
    if (!bytes || bytes->size() % 2 != 0 || bytes->size() > 2 * longest || !std::isfinite(scale)) return false;
    samples.clear();
    for (std::size_t i = 0; i < bytes->size(); i += 2)
    {
        const auto word = static_cast<std::uint16_t>((*bytes)[i] | (*bytes)[i + 1] << 8U);
        samples.push_back(static_cast<float>(static_cast<std::int16_t>(word)) / 32767.0F * scale);
    }
    return true;
}
} // namespace tarry
