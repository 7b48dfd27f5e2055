#include "Files/SheetWords.h"

#include "Core/Ground/Text.h"

#include <algorithm>
#include <cmath>

namespace tarry
{
std::string msWords(double seconds, int decimals)
{
    return shown(1e3 * seconds, decimals) + " ms";
}

std::string signedMsWords(double seconds, int decimals)
{
    return shownSigned(1e3 * seconds, decimals) + " ms";
}

std::string dbWords(double decibels)
{
    return shownSigned(decibels, 1) + " dB";
}

std::string confidenceWords(double confidence)
{
    const int percent = static_cast<int>(std::floor(100.0 * std::clamp(confidence, 0.0, 1.0) + 1e-9));
    return percent > 99 || confidence > 0.99 ? "over 99 %" : std::to_string(percent) + " %";
}

std::string chanceWords(double p)
{
    return p < 0.0001 ? "p < 0.0001" : "p = " + fixed(p, 4);
}

std::string rateWords(int hertz)
{
    return fixed(hertz / 1e3, hertz % 1000 == 0 ? 0 : hertz % 100 == 0 ? 1 : 2) + " kHz";
}

std::string plural(long long count, const std::string& thing)
{
    return std::to_string(count) + " " + thing + (count == 1 ? "" : "s");
}

std::string spotName(const SessionRow& row)
{
    if (!row.instrument.empty()) return row.instrument;
    const auto from = row.spotFile.find_last_of("/\\");
    const std::string file = from == std::string::npos ? row.spotFile : row.spotFile.substr(from + 1);
    const auto dot = file.rfind('.');
    return dot == std::string::npos || dot == 0 ? file : file.substr(0, dot);
}

std::string rowName(const SessionRow& row)
{
    return "cue " + row.cue + (row.take.empty() ? "" : ", take " + row.take) + ": " + spotName(row);
}
} // namespace tarry
