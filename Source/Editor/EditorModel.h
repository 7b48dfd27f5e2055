#pragma once
#include "Core/Controls/Controls.h"
#include "Core/Controls/Names.h"
#include "Core/Report/Report.h"
#include "Plugin/Follow.h"
#include "Plugin/Trial.h"

#include <optional>
#include <string>
#include <vector>

namespace tarry
{
/// Everything on the screen that is set or held rather than measured. SI units: seconds, linear gain.
/// Small and comparable, so that a timer can tell whether anything has to be painted again.
struct EditorValues
{
    Phase phase = Phase::measuring;
    Controls controls;
    Setup setup;
    bool hasLag = false;                         ///< false until there is a lag to apply
    Sides held;                                  ///< the lag and polarity of each side, lean not included
    bool byHand = false;                         ///< the lag was set by hand, not measured
    std::string freezeWords;                     ///< what Freeze will do now, UTF-8 as all of these
    std::string undoWords, redoWords;            ///< what undo takes back, redo brings back; empty: nothing
    std::vector<std::string> advice;             ///< how what is held stands to what is told, and what helps now
    std::optional<Sides> offered;                ///< measured, and not applied because nobody asked for that
    std::string offerWords;                      ///< what is offered, with what is held in view
    bool locked = false;                         ///< nothing is measured and nothing changes
    bool renderedUnsettled = false;              ///< a render went by while it was still measuring
    std::string tapeWords;                       ///< the lag beside the tape; empty: nobody has taped it
    std::string preset;                          ///< chosen last; empty: none
    bool presetChanged = false;                  ///< something that it sets has been changed since
    bool spotClipped = false;                    ///< a sample at or above full scale lately
    double shortestLag = -0.1, longestLag = 0.2; ///< s, by hand
    double sampleRate = 48000.0;                 ///< Hz
    int spotChannels = 1;
    int roomChannels = 1;
    Names names;

    /// The side that is shown and drawn. A right side that differs is named in words.
    [[nodiscard]] const Alignment& applied() const { return held.side[0]; }
    [[nodiscard]] bool sidesDiffer() const { return spotChannels > 1 && held.side[0] != held.side[1]; }

    /// What one side of the spot is set to, as it will be heard: held, leant, rounded, and within what the delay can
    /// do.
    [[nodiscard]] Alignment asSet(int side) const;

    bool operator==(const EditorValues&) const = default;
};

/// The loudest samples since they were last asked for, linear; no more than a meter needs.
struct Levels
{
    float spot = 0.0F, room = 0.0F;
};

/// What the views draw from: a plain value, easily made up in a test.
struct EditorModel
{
    EditorValues values;
    TrialValues trial;
    Report report;
};
} // namespace tarry
