#pragma once
#include "Plugin/History.h"
#include "Plugin/Presets.h"

#include <string>

namespace tarry
{
class Processor;

// What is kept and taken elsewhere, between a processor and plain values. All of it [screen].

/// Sets what the preset names; lag and polarity stay as they are held. Undo brings back the settings. Nothing happens
/// while locked.
void applyPreset(Processor& processor, const Preset& preset);
/// The settings as they are now, without what is only for a moment (bypass, measure, blend).
[[nodiscard]] Preset presetOf(Processor& processor, const std::string& name);
/// A new instance's settings, as a preset: the first of the host's list.
[[nodiscard]] Preset plainPreset();

[[nodiscard]] std::string recallLineOf(Processor& processor);
/// Sets everything the line says, frozen; one step of undo brings all of it back. Throws RecallError, and then has
/// changed nothing.
void applyRecallLine(Processor& processor, const std::string& line);

/// Everything beside what is held, as it stands now: for undo.
[[nodiscard]] Beside besideNow(Processor& processor);
/// What undo or redo brought back.
void applyBeside(Processor& processor, const Beside& beside);

/// Above a lag by hand or beside it: "The preset is changed." Whether what is set differs from the chosen preset.
[[nodiscard]] bool differsFromPreset(Processor& processor, const Preset& preset);
} // namespace tarry
