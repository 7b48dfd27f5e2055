#pragma once
#include "Files/Measurement.h"

#include <string>

namespace tarry
{
/// The measurement as a drawing (SVG, 960 px wide): what was found and why, the attack as recorded and aligned, the
/// evidence over lag with the chosen mode and the runner-up, and every hit's own lag over time. Colours come with
/// shapes and words.
[[nodiscard]] std::string toSvg(const Measurement& measurement);
} // namespace tarry
