#pragma once
#include <cstddef>
#include <string>
#include <string_view>

namespace tarry
{
/// Bytes of the UTF-8 character that begins at `at`; 0 where none does, or where XML does not allow it (controls and
/// line breaks count as not allowed).
[[nodiscard]] std::size_t characterAt(std::string_view text, std::size_t at);

/// Text made safe for HTML and XML, between tags and in quoted attributes: < > & " ' are written as entities, a control
/// character as a space, a byte that is no UTF-8 as U+FFFD. A cue or a file can be called anything.
[[nodiscard]] std::string escaped(std::string_view text);

/// JSON made safe between <script type="application/json"> tags: no '<' is left that could end them.
[[nodiscard]] std::string scriptSafe(std::string json);
} // namespace tarry
