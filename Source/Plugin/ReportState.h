#pragma once
#include "Core/Report/Report.h"

#include <nlohmann/json_fwd.hpp>

#include <optional>
#include <string_view>

namespace tarry
{
/// What arrives at the inputs, as the state has it: "good", "no room", "same signal", "own signal".
[[nodiscard]] const char* nameOf(InputState inputs);
[[nodiscard]] std::optional<InputState> inputNamed(std::string_view name);

/// A report as a session keeps it, so that verdict, reasons, figures and picture of what is held are there again when
/// it is opened. SI units. Waveforms of the latest hits alone, in 16 bits: some 70 kB.
[[nodiscard]] nlohmann::json reportToJson(const Report& report);

/// The same back; what is missing or of the wrong kind keeps its default. None where it is no report.
[[nodiscard]] std::optional<Report> reportFromJson(const nlohmann::json& from);
} // namespace tarry
