#pragma once
#include "Files/SessionRecord.h"

#include <string>

namespace tarry
{
/// The recall sheet as one page of HTML: style and script are in it, it loads nothing, and everything can be read
/// without the script, which sorts, filters, and plays the clips that lie beside the page (ClipFiles.h).
[[nodiscard]] std::string toHtml(const SessionRecord& record);
} // namespace tarry
