#pragma once
#include "Files/SessionRecord.h"

namespace tarry::test
{
/// An invented night's work with one of everything that can stand in a sheet: pooled and own lags, a moved stand, a
/// leave, a failure, a print by time stamp, hostile names. The first twelve rows are always those; more follow the same
/// pattern. The same for the same count.
[[nodiscard]] SessionRecord madeUpSession(int rows = 48);

/// How often a part stands in a text.
[[nodiscard]] int occurrences(const std::string& text, const std::string& part);

/// A cue's name that breaks a page that does not escape it.
inline constexpr const char* hostileName = "<script>alert(1)</script>&\"'";
} // namespace tarry::test
