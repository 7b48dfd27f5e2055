#include "Files/Measurement.h"

#include <cmath>
#include <iomanip>
#include <sstream>

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
    std::ostringstream text;
    text << std::fixed << std::setprecision(2) << check->metres << " m of air take " << check->expected * 1e3
         << " ms at " << std::setprecision(0) << measurement.settings.temperature << " °C; the lag is "
         << std::setprecision(2) << std::abs(check->difference) * 1e3 << " ms "
         << (check->difference < 0.0 ? "shorter" : "longer") << ". " << std::setprecision(1)
         << (check->agrees ? "They agree: " : "They do not agree: ") << check->shorter * 1e3 << " ms shorter to "
         << check->longer * 1e3
         << " ms longer is what air (3 degrees, humidity), tape (0.1 m) and the spot's own distance from the drum (up "
            "to 0.5 m) allow.";
    if (check->agrees) return text.str();
    if (check->difference > 0.0)
        text << " Was the tape held from spot to room microphone, and do both tracks start together?";
    else
        text << " Is the spot farther than 0.5 m from its drum, or did its track start late?";
    return text.str();
}
} // namespace tarry
