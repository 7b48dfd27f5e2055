#pragma once
#include "Files/SessionRecord.h"

#include <string>

namespace tarry
{
/// A row as the recall line that the plugin reads (format 1, Plugin/RecallLine.h): the same lag to the nanosecond,
/// polarity, lean and whole samples; reach and look-ahead as the plugin has them unless the lag needs more. Empty
/// without a lag.
[[nodiscard]] std::string recallLineOf(const SessionRow& row, const SessionRecord& record);
} // namespace tarry
