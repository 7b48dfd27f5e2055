#pragma once
#include "Core/Report.h"

namespace tarry
{
/// Verdict and reasons, from the figures that the report holds already. Sets `verdict` and `reasons`, nothing else.
void judge(Report& report);
} // namespace tarry
