#pragma once
#include "Files/SessionRecord.h"

#include <string>

/// How a recall sheet says things to people. Plain text, not yet safe for a page.
namespace tarry
{
/// "31.084 ms", with a true minus.
[[nodiscard]] std::string msWords(double seconds, int decimals = 3);
/// The same with its sign: "+0.31 ms".
[[nodiscard]] std::string signedMsWords(double seconds, int decimals = 2);
/// "+2.6 dB"
[[nodiscard]] std::string dbWords(double decibels);
/// "97 %", rounded down, and "over 99 %" at most: nobody is ever 100 % sure.
[[nodiscard]] std::string confidenceWords(double confidence);
/// "p = 0.0384", "p < 0.0001"
[[nodiscard]] std::string chanceWords(double p);
/// "48 kHz", "44.1 kHz"
[[nodiscard]] std::string rateWords(int hertz);
/// "1 hit", "2 hits"
[[nodiscard]] std::string plural(long long count, const std::string& thing);

/// What the spot is called: its instrument, else its file's name without folder and ending.
[[nodiscard]] std::string spotName(const SessionRow& row);
/// "Harbour, take 2: side drum": names a row wherever people meet it; trial results are gathered by it.
[[nodiscard]] std::string rowName(const SessionRow& row);

/// How loud what is heard from a sheet can get.
inline constexpr const char* sheetCaution = "Aligned hits add up to 6 dB in the blend. Turn the monitors down before "
                                            "you listen, and keep to your local rules on "
                                            "noise exposure.";
} // namespace tarry
