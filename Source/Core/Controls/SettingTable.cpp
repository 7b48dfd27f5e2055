#include "Core/Controls/SettingTable.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstddef>
#include <type_traits>

namespace tarry
{
namespace
{
using Kind = Setting::Kind;
using Kept = Setting::Kept;
using Unit = Setting::Unit;

constexpr std::array<std::string_view, 2> noYes{"no", "yes"};
constexpr std::array<std::string_view, 2> sides{"as recorded", "aligned"};
constexpr std::array<std::string_view, 2> phases{"frozen", "measuring"};
constexpr std::array<std::string_view, 9> channels{"first", "left", "right", "3", "4", "5", "6", "7", "8"};

// clang-format off
const std::array table{
    Setting{"bypass", 1, &Controls::bypassed, Kind::toggle, Kept::momentary, "Bypass", "bypass", {},
            "The spot passes as it comes in, by the latency later."},
    Setting{"aligned", 1, &Controls::aligned, Kind::toggle, Kept::preset, "Aligned", "hear", "hear",
            "Aligned, or as recorded.", Unit::none, 0, 1, 1, 0, sides},
    Setting{"measure", 1, &Controls::measure, Kind::toggle, Kept::momentary, "Measure", "measure", {},
            "On measures (again), off freezes.", Unit::none, 0, 1, 1, 0, phases},
    Setting{"freezeWhenSettled", 1, &Controls::freezeWhenSettled, Kind::toggle, Kept::preset, "Freeze when settled",
            "freeze when settled", {}, "Holds lag and polarity as soon as enough hits agree."},
    Setting{"lean", 1, &Controls::lean, Kind::number, Kept::preset, "Lean", "lean", "lean",
            "On top of the lag: positive leans the spot back behind the room, so that the room leads.",
            Unit::milliseconds, -20, 30, 0.01, 2},
    Setting{"wholeSamples", 1, &Controls::wholeSamples, Kind::toggle, Kept::preset, "Whole samples", "whole samples",
            "whole-samples", "Rounds the lag to a whole sample, so that the spot passes bit for bit."},
    Setting{"eachSide", 1, &Controls::eachSide, Kind::toggle, Kept::preset, "Each side", "each side its own lag",
            "each-side", "A stereo spot's sides each follow a lag of their own."},
    Setting{"blend", 1, &Controls::blend, Kind::toggle, Kept::momentary, "Blend", "blend", {},
            "Adds the room to the output, for judging only."},
    Setting{"blendRoom", 1, &Controls::blendGain, Kind::number, Kept::preset, "Blend room", "blend room", {},
            "Level of the room in the blend.", Unit::decibels, -40, 12, 0.1, 1},
    Setting{"reach", 1, &Controls::reach, Kind::number, Kept::preset, "Reach", "reach", "reach",
            "The longest lag that is looked for.", Unit::milliseconds, 5, 200, 1, 0},
    Setting{"clap", 1, &Controls::clap, Kind::toggle, Kept::preset, "Clap", "one clap is enough", "clap",
            "A single clap or slate, struck at the instrument, settles it."},
    Setting{"roomChannel", 1, &Controls::roomChannel, Kind::choice, Kept::preset, "Room channel", "room channel",
            "room-channel", "Which of the room's channels to measure against.", Unit::channel, 0, 8, 1, 0, channels},
    Setting{"lock", 2, &Controls::lock, Kind::toggle, Kept::momentary, "Lock", "lock", {},
            "No measuring and no change, while recording."},
    Setting{"levelMatched", 2, &Controls::levelMatched, Kind::toggle, Kept::preset, "Level-matched",
            "level-matched", {}, "Both sides of the A/B equally loud in the blend, so that louder does not pass for better."},
    Setting{"compareLags", 2, &Controls::compareLags, Kind::toggle, Kept::momentary, "Compare two lags",
            "compare two lags", {}, "The A/B is between what is held and the lag measured beside it, or offered."},

    Setting{"lookAhead", 1, &Setup::lookAhead, Kind::number, Kept::preset, {}, "look-ahead", "look-ahead",
            "Latency told to the host, so that a spot can also move earlier. The sound pauses for a moment when it "
            "changes.", Unit::milliseconds, 0, 100, 1, 2},
    Setting{"roomArrivesLate", 1, &Setup::roomArrivesLate, Kind::toggle, Kept::preset, {}, "host delays the room",
            "room-late", "With look-ahead only: whether the host hands over the room later by the latency it was told. "
            "Most do; turn it off where the lag is wrong by exactly the look-ahead."},
    Setting{"temperature", 1, &Setup::temperature, Kind::number, Kept::session, {}, "air", "air",
            "The air's temperature, for metres and feet.", Unit::celsius, -30, 50, 0.5, 1},
    Setting{"tape", 2, &Setup::tape, Kind::number, Kept::session, {}, "tape", "tape",
            "By the tape from the spot to the room microphone; 0 where nobody has taped it.",
            Unit::metres, 0, 100, 0.01, 2},
    Setting{"watch", 2, &Setup::watch, Kind::toggle, Kept::preset, {}, "watch", {},
            "Frozen, it goes on comparing, and says when the held lag no longer fits. It moves nothing."},
    Setting{"lockWhileRecording", 2, &Setup::lockWhileRecording, Kind::toggle, Kept::preset, {},
            "lock while the host records", {}, "No measuring and no change while the host records."},
};
// clang-format on

double toSi(const Setting& setting, double value)
{
    switch (setting.unit)
    {
    case Unit::milliseconds:
        return std::round(value * 1.0e6) / 1.0e9; // whole nanoseconds: 8 ms are 0.008 s, not nearly
    case Unit::decibels:
        return std::pow(10.0, value / 20.0);
    case Unit::channel:
        return value - 1.0;
    default:
        return value;
    }
}

double fromSi(const Setting& setting, double value)
{
    switch (setting.unit)
    {
    case Unit::milliseconds:
        return std::round(value * 1.0e9) / 1.0e6;
    case Unit::decibels:
        return 20.0 * std::log10(value);
    case Unit::channel:
        return value + 1.0;
    default:
        return value;
    }
}

template <typename Type>
void assign(Type& target, double si)
{
    if constexpr (std::is_same_v<Type, bool>)
        target = si >= 0.5;
    else if constexpr (std::is_same_v<Type, int>)
        target = static_cast<int>(std::lround(si));
    else
        target = si;
}

// Where a member lives decides what it is a member of.
template <typename Type>
constexpr bool ofControls(Type Controls::*)
{
    return true;
}
template <typename Type>
constexpr bool ofControls(Type Setup::*)
{
    return false;
}
} // namespace

bool Setting::isParameter() const
{
    return std::visit([](auto pointer) { return ofControls(pointer); }, member);
}

double Setting::initial() const
{
    return valueIn(Controls{}, Setup{});
}

std::string_view Setting::unitName() const
{
    switch (unit)
    {
    case Unit::milliseconds:
        return "ms";
    case Unit::decibels:
        return "dB";
    case Unit::celsius:
        return "C";
    case Unit::metres:
        return "m";
    default:
        return {};
    }
}

std::string_view Setting::wordOf(double value) const
{
    const std::span<const std::string_view> all = choices.empty() && kind == Kind::toggle ? noYes : choices;
    const auto index = std::lround(value - least);
    return index >= 0 && index < static_cast<long>(all.size()) ? all[static_cast<std::size_t>(index)]
                                                               : std::string_view{};
}

double Setting::snapped(double value) const
{
    const double steps = std::round((std::clamp(value, least, most) - least) / step);
    constexpr double digits = 100.0; // no step is finer: 3 times 0.1 dB is 0.3 dB, to the last bit
    return std::min(most, std::round((least + steps * step) * digits) / digits);
}

double Setting::valueIn(const Controls& controls, const Setup& setup) const
{
    return std::visit(
        [&](auto pointer)
        {
            if constexpr (ofControls(decltype(pointer){}))
                return fromSi(*this, static_cast<double>(controls.*pointer));
            else
                return fromSi(*this, static_cast<double>(setup.*pointer));
        },
        member);
}

void Setting::set(Controls& controls, Setup& setup, double value) const
{
    std::visit(
        [&](auto pointer)
        {
            const double si = toSi(*this, std::clamp(value, least, most));
            if constexpr (ofControls(decltype(pointer){}))
                assign(controls.*pointer, si);
            else
                assign(setup.*pointer, si);
        },
        member);
}

void Setting::set(Controls& controls, double value) const noexcept
{
    Setup none;
    set(controls, none, value);
}

std::span<const Setting> settingTable()
{
    return table;
}

const Setting* findSetting(std::string_view id)
{
    const auto* const found = std::find_if(table.begin(), table.end(), [&](const auto& one) { return one.id == id; });
    return found == table.end() ? nullptr : found;
}

const Setting& setting(Setting::Member member)
{
    return *std::find_if(table.begin(), table.end(), [&](const auto& one) { return one.member == member; });
}
} // namespace tarry
