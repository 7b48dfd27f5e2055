#pragma once
#include "Files/Measurement.h"

#include <string>

namespace tarry::command
{
/// The report for people: a few lines for the terminal, in ms, dB, metres and feet.
[[nodiscard]] std::string summaryOf(const Measurement& measurement);

/// To be said wherever an aligned spot is about to be heard.
inline constexpr const char* monitoringCaution =
    "Aligned hits can add up to 6 dB in the blend: turn the monitors down first. Local rules on noise exposure apply.";
} // namespace tarry::command
