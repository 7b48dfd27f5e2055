#pragma once
#include "Core/Ground/Types.h"

#include <optional>
#include <string>
#include <string_view>

/// Numbers and names as text, the one way for every report, screen and file. A point for the decimals, whatever locale
/// a host has set.
namespace tarry
{
/// With that many decimals, for programs: "-3.50". Never "-0.00".
[[nodiscard]] std::string fixed(double value, int decimals);
/// The same with its sign: "+3.50", "-3.50", "+0.00".
[[nodiscard]] std::string fixedSigned(double value, int decimals);

/// The same two for people: with a true minus (U+2212, in UTF-8).
[[nodiscard]] std::string shown(double value, int decimals);
[[nodiscard]] std::string shownSigned(double value, int decimals);

/// A probability for people: "98 %". Nobody is ever quite sure or quite wrong: "over 99 %", "under 1 %".
[[nodiscard]] std::string shownPercent(double probability);

/// Reads a finite number with a point, all of the text and nothing else; a leading plus is welcome.
[[nodiscard]] std::optional<double> readNumber(std::string_view text);

/// Without the white space around it.
[[nodiscard]] std::string_view trimmed(std::string_view text);

/// A stranger's text in quotes, for a message of one line: cut short, and free of what cannot be printed.
[[nodiscard]] std::string quoted(std::string_view text);

/// "normal" or "inverted", as files and screens have it.
[[nodiscard]] const char* nameOf(Polarity polarity);
/// "align", "leave" or "unsure".
[[nodiscard]] const char* nameOf(Verdict verdict);
} // namespace tarry
