#pragma once
#include "Plugin/Presets.h"

#include <string>

namespace tarry
{
class Processor;

// What is kept and taken elsewhere, between a processor and plain values. All of it [screen].

/// Sets what the preset names; lag and polarity stay as they are held.
void applyPreset(Processor& processor, const Preset& preset);
/// The settings as they are now, without what is only for a moment (bypass, measure, blend).
[[nodiscard]] Preset presetOf(Processor& processor, const std::string& name);
/// A new instance's settings, as a preset: the first of the host's list.
[[nodiscard]] Preset plainPreset(Processor& processor);

[[nodiscard]] std::string recallLineOf(Processor& processor);
/// Sets everything the line says, frozen; one step of undo brings back what was held. Throws RecallError, and then has
/// changed nothing.
void applyRecallLine(Processor& processor, const std::string& line);
} // namespace tarry
