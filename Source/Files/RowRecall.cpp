#include "Files/RowRecall.h"

#include "Core/Ground/Acoustics.h"
#include "Core/Ground/Text.h"

#include <algorithm>
#include <cmath>

namespace tarry
{
namespace
{
constexpr double usualTemperature = 20.0;                  // degrees Celsius
constexpr double usualReach = 0.080, longestReach = 0.200; // s
constexpr double longestLookAhead = 0.100;                 // s

/// What can stand in the line: no white space.
std::string plain(std::string text)
{
    std::erase_if(text, [](char c) { return c <= ' ' || c > '~'; });
    return text.empty() ? "unknown" : text;
}

/// ms up to the next whole one.
std::string wholeMs(double seconds)
{
    return fixed(std::ceil(1e3 * seconds - 1e-9), 2) + "ms";
}
} // namespace

std::string recallLineOf(const SessionRow& row, const SessionRecord& record)
{
    if (!row.lag) return {};
    const double temperature = row.temperature.value_or(usualTemperature);
    std::string line = "Tarry recall 1:";
    const auto put = [&line](const char* key, const std::string& value)
    { line.append(" ").append(key).append("=").append(value); };
    put("version", plain(record.version));
    put("lag", fixed(1e3 * *row.lag, 6) + "ms");
    put("polarity", nameOf(row.polarity));
    put("distance", fixed(distanceOf(*row.lag, temperature), 2) + "m");
    put("air", fixed(temperature, 1) + "C");
    put("lean", fixed(1e3 * row.lean, 6) + "ms");
    put("whole-samples", record.wholeSamples ? "yes" : "no");
    put("each-side", "no");
    put("hear", row.decision == Decision::align ? "aligned" : "as-recorded");
    put("reach", wholeMs(std::clamp(*row.lag, usualReach, longestReach)));
    // A spot that has to move earlier needs that much look-ahead.
    put("look-ahead", wholeMs(std::clamp(-row.applied(), 0.0, longestLookAhead)));
    put("room-late", "yes");
    put("room-channel", row.roomChannel == "left" || row.roomChannel == "right" ? row.roomChannel : "first");
    put("clap", row.clap ? "yes" : "no");
    put("by-hand", "no");
    put("confidence", fixed(std::min(row.confidence, 0.999), 3));
    put("verdict", nameOf(row.verdict));
    put("trial", "none");
    return line + " end";
}
} // namespace tarry
