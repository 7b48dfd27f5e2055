#pragma once
#include "Score.h"

#include <filesystem>
#include <string>
#include <vector>

namespace tarry::bench
{
/// The run as an SVG picture: each tier's errors as dots, Tarry beside GCC-PHAT and the first-break picker, and the
/// reliability diagram. Throws std::runtime_error.
void drawRun(const std::filesystem::path& file, const std::string& title, const std::vector<Outcome>& outcomes,
             const std::vector<TierScore>& scores, const Calibration& calibration);
} // namespace tarry::bench
