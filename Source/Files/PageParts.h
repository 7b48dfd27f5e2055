#pragma once
#include <string_view>

namespace tarry
{
/// A file of Source/Files/Pages as it was when this was built, by its name.
[[nodiscard]] std::string_view pagePart(std::string_view name);
} // namespace tarry
