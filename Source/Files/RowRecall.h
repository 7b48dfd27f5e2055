#pragma once
#include "Files/SessionRecord.h"

#include <string>

namespace tarry
{
/// A row as the recall line that the plugin reads: its lag to the nanosecond, polarity, lean, whole samples and names;
/// reach and look-ahead as the plugin has them unless the lag needs more. Empty without a lag.
[[nodiscard]] std::string recallLineOf(const SessionRow& row, const SessionRecord& record);
} // namespace tarry
