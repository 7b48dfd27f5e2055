#pragma once
#include <juce_core/juce_core.h>
#include <nlohmann/json.hpp>

#include <optional>

namespace tarry::host
{
/// Finds the plugin's own state in the blob that a host saves: VST3 wraps it in XML and base64, LV2 in Turtle and
/// base64. Only a test does this; to a host the blob is opaque.
[[nodiscard]] std::optional<nlohmann::json> readPluginState(const juce::MemoryBlock& blob);

/// The same blob with the plugin's own state merged with `patch` (RFC 7396).
/// @throws std::runtime_error where the blob holds no such state
[[nodiscard]] juce::MemoryBlock mergePluginState(const juce::MemoryBlock& blob, const nlohmann::json& patch);
} // namespace tarry::host
