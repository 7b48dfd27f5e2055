#include "Files/Measurement.h"

#include <cmath>

namespace tarry
{
std::vector<Alignment> alignmentOf(const Measurement& measurement)
{
    std::vector<Alignment> sides;
    for (int i = 0; measurement.report.lag && i < measurement.spot.channels; ++i)
        sides.push_back(*alignmentOfSide(measurement.report, i, measurement.eachSide));
    return sides;
}

std::optional<TapeCheck> tapeCheckOf(const Measurement& measurement)
{
    // A late spot's lag is no way through air.
    if (!measurement.taped || measurement.report.lag.value_or(-1.0) < 0.0) return std::nullopt;
    return checkTape(*measurement.report.lag, *measurement.taped, measurement.settings.temperature);
}

std::string tapeSentence(const Measurement& measurement)
{
    if (!measurement.taped) return {};
    const auto check = tapeCheckOf(measurement);
    if (!check)
        return measurement.report.lag ? "the spot is later than the room, so its lag is no way through air"
                                      : "no lag to compare with";
    std::string text = shown(check->metres, 2) + " m of air take " + shown(check->expected * 1e3, 2) + " ms at " +
                       shown(measurement.settings.temperature, 0) + " °C; the lag is " +
                       shown(std::abs(check->difference) * 1e3, 2) + " ms " +
                       (check->difference < 0.0 ? "shorter" : "longer") + ". " +
                       (check->agrees ? "They agree: " : "They do not agree: ") + shown(check->shorter * 1e3, 1) +
                       " ms shorter to " + shown(check->longer * 1e3, 1) +
                       " ms longer is what air (3 degrees, humidity), tape (0.1 m) and the spot's own distance from "
                       "the drum (up to 0.5 m) allow.";
    if (check->agrees) return text;
    if (check->difference > 0.0)
        return text + " Was the tape held from spot to room microphone, and do both tracks start together?";
    return text + " Is the spot farther than 0.5 m from its drum, or did its track start late?";
}
} // namespace tarry
