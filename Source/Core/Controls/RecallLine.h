#pragma once
#include "Core/Controls/Controls.h"
#include "Core/Controls/Names.h"
#include "Core/Controls/Sides.h"
#include "Core/Ground/Types.h"

#include <optional>
#include <stdexcept>
#include <string>
#include <string_view>

namespace tarry
{
/// Everything needed to set a spot again, as one line of text that people can read too:
///
///     Tarry recall 1: version=0.1.0 lag=31.084123ms polarity=normal lean=8.00ms ... end
///
/// Lags in whole nanoseconds, so that a line read back sets the very same delay. A stereo spot whose sides differ adds
/// right-lag and right-polarity. distance follows from lag and air, for people; it is not read back.
struct RecallLine
{
    static constexpr int format = 1;

    std::string version;       ///< of the Tarry that wrote it
    std::optional<Sides> held; ///< none: nothing was held, "lag=none"
    bool byHand = false;
    double confidence = 0.0;        ///< 0 to 1; 0 by hand
    std::optional<Verdict> verdict; ///< none by hand
    Names names;                    ///< spot, room, cue, take and date, where somebody has said
    double sampleRate = 0.0;        ///< Hz, of the recording; 0: not known
    Controls controls;              ///< of these, what the table of settings gives a recall key
    Setup setup;
    std::string trial; ///< short form of the last blind trial; empty: none

    bool operator==(const RecallLine&) const = default;
};

/// What is wrong with a recall line: one line that says what to do.
class RecallError : public std::runtime_error
{
    using std::runtime_error::runtime_error;
};

/// One line, no line break at its end.
[[nodiscard]] std::string writeRecallLine(const RecallLine& recall);

/// Any white space around and between is welcome, and so are keys of later versions. Throws RecallError for anything
/// else that is no whole recall line.
[[nodiscard]] RecallLine readRecallLine(std::string_view text);
} // namespace tarry
