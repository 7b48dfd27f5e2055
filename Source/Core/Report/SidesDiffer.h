#pragma once
#include "Core/Report/Report.h"

#include <string>

namespace tarry
{
/// "The sides differ: left 31.00 ms, right 29.50 ms, inverted." where a stereo spot's sides are each sure of a lag and
/// these are so far apart, or so turned, that one for both can be heard; empty where one does for both.
[[nodiscard]] std::string sidesDiffer(const Report& report);
} // namespace tarry
