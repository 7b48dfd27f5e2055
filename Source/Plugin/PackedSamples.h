#pragma once
#include <nlohmann/json_fwd.hpp>

#include <vector>

namespace tarry
{
/// Samples as a state keeps them: in 16 bits of the largest, little end first, as text.
[[nodiscard]] nlohmann::json packSamples(const std::vector<float>& samples);

/// The same back. False, with `samples` as they were, where it is no such thing or too long to have been written here.
[[nodiscard]] bool unpackSamples(const nlohmann::json& from, std::vector<float>& samples);
} // namespace tarry
