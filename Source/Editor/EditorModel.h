#pragma once
#include "Core/Controls/Controls.h"
#include "Core/Report/Report.h"
#include "Plugin/Follow.h"
#include "Plugin/Trial.h"

namespace tarry
{
/// Everything on the screen that is set or held rather than measured. SI units: seconds, linear gain.
/// Small and comparable, so that a timer can tell whether anything has to be painted again.
struct EditorValues
{
    Phase phase = Phase::measuring;
    Controls controls;
    Setup setup;
    bool hasLag = false; ///< false until there is a lag to apply
    Sides held;          ///< the lag and polarity of each side, lean not included
    bool byHand = false; ///< the lag was set by hand, not measured
    bool canUndo = false;
    bool spotClipped = false;    ///< a sample at or above full scale lately
    double sampleRate = 48000.0; ///< Hz
    int spotChannels = 1;
    int roomChannels = 1;

    /// The side that is shown and drawn. A right side that differs is named in words.
    [[nodiscard]] const Alignment& applied() const { return held.side[0]; }
    [[nodiscard]] bool sidesDiffer() const { return spotChannels > 1 && held.side[0] != held.side[1]; }

    bool operator==(const EditorValues&) const = default;
};

/// What the views draw from: a plain value, easily made up in a test.
struct EditorModel
{
    EditorValues values;
    TrialValues trial;
    Report report;
};
} // namespace tarry
