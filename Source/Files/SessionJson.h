#pragma once
#include "Files/SessionRecord.h"

#include <string>

namespace tarry
{
/// The record as JSON, with a line break at its end: this is sheet.json. Keys say their units (lag_ms, spread_ms, ...),
/// what is not known is null; lags in whole nanoseconds, other figures rounded as SessionJson.cpp says. To write and to
/// read back changes nothing more.
[[nodiscard]] std::string toJson(const SessionRecord& record);

/// Reads that; keys of later versions are passed over. Throws InputError, with `name` in it, for what is no such
/// record or is of a later schema.
[[nodiscard]] SessionRecord sessionFromJson(const std::string& text, const std::filesystem::path& name);
} // namespace tarry
