#pragma once
#include "Core/Controls/Names.h"
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
/// A file that was printed.
struct Printed
{
    std::filesystem::path file;
    std::vector<Alignment> sides; ///< as applied, the lean in it
    double lean = 0.0;            ///< s
    std::vector<double> samples;  ///< by which each side was moved
    bool wholeSamples = false;
    bool timeStamp = false; ///< the time stamp was moved instead of the samples
    std::int64_t frames = 0;
    std::int64_t clipped = 0; ///< samples held at full scale
};

/// Two files and what was found between them: all that a report on them is written from.
struct Measurement
{
    AudioInfo spot, room;
    MeasureSettings settings;
    Report report;
    bool eachSide = false;          ///< each side of a stereo spot by its own lag
    double lean = 0.0;              ///< s: asked for on top of the lag, as the recall line says
    bool wholeSamples = false;      ///< asked for, as the recall line says
    std::optional<double> taped;    ///< m, spot to room microphone by the tape
    Names names;                    ///< where somebody has said
    std::optional<Printed> printed; ///< with the alignment that was measured
    std::vector<std::string> notes; ///< what a mixer should know about the files, one sentence each
};

/// What to apply to each side of the spot, in whole nanoseconds: the report's one lag, or with `eachSide` the side's
/// own where it is sure (confidence 0.9). Empty where no lag was found.
[[nodiscard]] std::vector<Alignment> alignmentOf(const Measurement& measurement);

/// "cue Salt Road, take 3: snare against tree, 2031-02-03": what somebody has said of it; empty where nobody has.
[[nodiscard]] std::string namesOf(const Names& names);

/// The lag beside the tape; none where one of them is missing, or the spot is late.
[[nodiscard]] std::optional<TapeCheck> tapeCheckOf(const Measurement& measurement);

/// What that says, for a mixer; empty without a tape.
[[nodiscard]] std::string tapeSentence(const Measurement& measurement);

/// The room channel (from 0) that "first", "left", "right", "centre" or a number from 1 means; -1: the first arrival.
/// In files of three channels and more the third is the centre, as WAV orders them; a single channel is left, right and
/// centre alike. Throws InputError where the room has no such channel.
[[nodiscard]] int roomChannelOf(const std::string& which, const AudioInfo& room);

/// The samples that `seconds` are at the spot's rate.
[[nodiscard]] inline double samplesOf(const Measurement& measurement, double seconds)
{
    return seconds * measurement.spot.sampleRate;
}

} // namespace tarry
