#pragma once
#include "Core/Ground/Settings.h"
#include "Core/Ground/Text.h"
#include "Core/Report/Report.h"
#include "Core/Report/SideAlignment.h"
#include "Core/Report/Tape.h"
#include "Files/AudioInfo.h"

#include <optional>
#include <string>
#include <vector>

namespace tarry
{
/// Two files and what was found between them: all that a report on them is written from.
struct Measurement
{
    AudioInfo spot, room;
    MeasureSettings settings;
    Report report;
    bool eachSide = false;          ///< each side of a stereo spot by its own lag
    std::optional<double> taped;    ///< m, spot to room microphone by the tape
    std::vector<std::string> notes; ///< what a mixer should know about the files, one sentence each
};

/// What to apply to each side of the spot, in whole nanoseconds: the report's one lag, or with `eachSide` the side's
/// own where it is sure (confidence 0.9). Empty where no lag was found.
[[nodiscard]] std::vector<Alignment> alignmentOf(const Measurement& measurement);

/// The lag beside the tape; none where one of them is missing, or the spot is late.
[[nodiscard]] std::optional<TapeCheck> tapeCheckOf(const Measurement& measurement);

/// What that says, for a mixer; empty without a tape.
[[nodiscard]] std::string tapeSentence(const Measurement& measurement);

/// The samples that `seconds` are at the spot's rate.
[[nodiscard]] inline double samplesOf(const Measurement& measurement, double seconds)
{
    return seconds * measurement.spot.sampleRate;
}

} // namespace tarry
