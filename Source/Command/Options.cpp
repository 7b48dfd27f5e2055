#include "Command/Options.h"

#include "Core/Ground/Acoustics.h"
#include "Core/Ground/Text.h"

#include <string_view>

namespace tarry::command
{
namespace
{
std::string checkRoomChannel(const std::string& text)
{
    for (const char* word : {"first", "left", "right", "centre"})
        if (text == word) return {};
    const bool isNumber = !text.empty() && text.size() < 4 && text.find_first_not_of("0123456789") == std::string::npos;
    if (isNumber && text.front() != '0') return {};
    return "'" + text + "' is no room channel: give first, left, right, centre, or a number from 1";
}

std::string checkTaped(const std::string& text)
{
    return metresFrom(text) ? std::string()
                            : "'" + text + "' is no taped distance: give metres, or feet as 35ft, from 0.3 to 100 m";
}
} // namespace

std::optional<double> metresFrom(const std::string& text)
{
    std::string_view number = text;
    double unit = 1.0; // m
    if (number.ends_with("ft"))
    {
        unit = metresPerFoot;
        number.remove_suffix(2);
    }
    else if (number.ends_with('m'))
        number.remove_suffix(1);
    const auto value = readNumber(trimmed(number));
    if (!value) return std::nullopt;
    const double metres = *value * unit;
    if (!(metres >= 0.3 && metres <= 100.0)) return std::nullopt;
    return metres;
}

CLI::Validator between(double least, double most)
{
    const auto check = [least, most](const std::string& text)
    {
        if (const auto value = readNumber(text); value && *value >= least && *value <= most) return std::string();
        return "'" + text + "' is not a number from " + shown(least, 0) + " to " + shown(most, 0);
    };
    return {check, ""};
}

CLI::Validator within(const Setting& setting)
{
    return between(setting.least, setting.most);
}

std::string rangeOf(const Setting& setting)
{
    return fixed(setting.least, 0) + " to " + fixed(setting.most, 0);
}

void addMeasureOptions(CLI::App& command, MeasureOptions& options)
{
    const std::string group = "Measuring";
    command
        .add_option("--reach", options.reachMs,
                    "Longest lag that is looked for, " + rangeOf(setting(&Controls::reach)) + " ms")
        ->type_name("MS")
        ->check(within(setting(&Controls::reach)))
        ->capture_default_str()
        ->group(group);
    command
        .add_option("--look-ahead", options.lookAheadMs,
                    "How much earlier than the spot the room may be, " + rangeOf(setting(&Setup::lookAhead)) + " ms")
        ->type_name("MS")
        ->check(within(setting(&Setup::lookAhead)))
        ->capture_default_str()
        ->group(group);
    command
        .add_option("--room-channel", options.roomChannel,
                    "Room channel to align to: first (the one the sound reaches first), left, right, centre, or its "
                    "number from 1")
        ->type_name("WHICH")
        ->check(CLI::Validator(checkRoomChannel, ""))
        ->capture_default_str()
        ->group(group);
    command.add_flag("--each-side", options.eachSide, "A stereo spot: each side by its own lag")->group(group);
    command.add_flag("--clap", options.clap, "The files hold a clap or slate at the instrument: one is enough")
        ->group(group);
    command
        .add_option("--temperature", options.temperature,
                    "Of the air, for distances only, " + rangeOf(setting(&Setup::temperature)) + " degrees Celsius")
        ->type_name("C")
        ->check(within(setting(&Setup::temperature)))
        ->capture_default_str()
        ->group(group);
    command
        .add_option_function<std::string>(
            "--taped", [&options](const std::string& text) { options.taped = metresFrom(text); },
            "Distance from spot to room microphone by the tape, in metres, or in feet as 35ft: is it plausible? The "
            "lag stays as measured")
        ->type_name("METRES")
        ->check(CLI::Validator(checkTaped, ""))
        ->group(group);
    command
        .add_flag("--start-together", options.startTogether,
                  "Take spot and room to start at the same moment, whatever their broadcast waves' time stamps say")
        ->group(group);
    const std::string naming = "Names, for the reports";
    command.add_option("--spot-name", options.names.spot, "What the spot is called")->type_name("TEXT")->group(naming);
    command.add_option("--room-name", options.names.room, "What the room is called")->type_name("TEXT")->group(naming);
    command.add_option("--cue", options.names.cue, "Cue")->type_name("TEXT")->group(naming);
    command.add_option("--take", options.names.take, "Take")->type_name("TEXT")->group(naming);
    command.add_option("--date", options.names.date, "Day of the recording; else a broadcast wave's own is taken")
        ->type_name("TEXT")
        ->group(naming);
    command.add_option("--json", options.json, "Also write the report as JSON; - for standard output, then alone")
        ->type_name("FILE")
        ->group(group);
    command
        .add_option("--picture", options.picture,
                    "Also draw the attack before and after, the evidence over lag and the hits, as SVG")
        ->type_name("FILE")
        ->group(group);
}
} // namespace tarry::command
