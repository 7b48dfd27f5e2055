#include "Files/Measurement.h"

#include "Files/Errors.h"

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

std::string namesOf(const Names& names)
{
    std::string text = names.cue.empty() ? std::string() : "cue " + names.cue;
    if (!names.take.empty()) text += (text.empty() ? "take " : ", take ") + names.take;
    std::string microphones = names.spot;
    if (!names.room.empty()) microphones += (microphones.empty() ? "room " : " against ") + names.room;
    if (!microphones.empty()) text += (text.empty() ? "" : ": ") + microphones;
    if (!names.date.empty()) text += (text.empty() ? "" : ", ") + names.date;
    return text;
}

int roomChannelOf(const std::string& which, const AudioInfo& room)
{
    if (which == "first") return -1;
    int channel = 0;
    if (which == "right")
        channel = room.channels > 1 ? 1 : 0;
    else if (which == "centre")
    {
        if (room.channels == 2)
            throw InputError(room.file, "has two channels, so no centre: give left, right or first");
        channel = room.channels > 2 ? 2 : 0;
    }
    else if (which != "left")
    {
        const double number = readNumber(which).value_or(0.0); // any there is, and no part of one
        channel = number >= 1.0 && number <= room.channels && std::floor(number) == number
                      ? static_cast<int>(number) - 1
                      : -1;
    }
    if (channel < 0 || channel >= room.channels)
        throw InputError(room.file, "has " + std::to_string(room.channels) + " channel(s), so no channel " + which +
                                        ": choose another room channel");
    return channel;
}
} // namespace tarry
