#pragma once
#include "Core/Controls/Controls.h"

#include <span>
#include <string_view>
#include <variant>

namespace tarry
{
/// One setting, and everything that is said about it anywhere. Host parameters, presets, saved states, the recall line
/// and the screen are made from the table, so that a new setting is: a line in Controls or Setup, a line in the table,
/// what it does, and its place on the screen.
///
/// `id`, range and order are part of saved sessions and of the plugin's interface to a host: never change one that has
/// landed, add another at the end.
struct Setting
{
    enum class Kind
    {
        toggle,
        number,
        choice ///< whole numbers, each with a word
    };
    /// How a value in the setting's own unit becomes one in SI.
    enum class Unit
    {
        none,
        milliseconds,
        decibels,
        celsius,
        metres,
        channel ///< 0 is -1 in SI, any; 1 is channel 0
    };
    /// Where it is saved beyond the session itself.
    enum class Kept
    {
        momentary, ///< for a moment: in the host's list alone
        session,   ///< a matter of this track: no preset's
        preset
    };
    using Member = std::variant<bool Controls::*, int Controls::*, double Controls::*, bool Setup::*, double Setup::*>;

    std::string_view id;
    int hint;      ///< the release that brought it: a recall line of an earlier one may lack it
    Member member; ///< a member of Controls is a parameter of the host's; one of Setup is not
    Kind kind;
    Kept kept;
    std::string_view hostName;  ///< what a host shows
    std::string_view words;     ///< on the screen (with a capital), and in a preset
    std::string_view recallKey; ///< empty: no part of the recall line
    std::string_view help;      ///< one sentence, for the screen
    Unit unit = Unit::none;
    double least = 0.0, most = 1.0; ///< in its own unit, as all of these
    double step = 1.0;
    int decimals = 0;
    std::span<const std::string_view> choices{}; ///< words of a choice or of a toggle (off, on), from value `least` up

    [[nodiscard]] bool isParameter() const; ///< else it cannot be automated
    [[nodiscard]] double initial() const;   ///< of a new instance
    /// "ms", "dB", "C", "m", or nothing.
    [[nodiscard]] std::string_view unitName() const;
    /// From 0; nothing for a value that has no word of its own. Toggles without words of their own are "no" and "yes".
    [[nodiscard]] std::string_view wordOf(double value) const;
    /// Within the range, on a step.
    [[nodiscard]] double snapped(double value) const;

    [[nodiscard]] double valueIn(const Controls& controls, const Setup& setup) const;
    /// Limited to the range, but not snapped: a recall line keeps every nanosecond.
    void set(Controls& controls, Setup& setup, double value) const;
    void set(Controls& controls, double value) const noexcept; ///< where it is a parameter; also [audio]
};

/// All of them, parameters in the order in which hosts see them.
[[nodiscard]] std::span<const Setting> settingTable();
/// By id; null for what there is not.
[[nodiscard]] const Setting* findSetting(std::string_view id);
/// By where it lives: `setting(&Controls::lean)`. It must be in the table.
[[nodiscard]] const Setting& setting(Setting::Member member);
} // namespace tarry
