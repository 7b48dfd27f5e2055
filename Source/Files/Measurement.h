#pragma once
#include "Core/Report.h"
#include "Core/Settings.h"
#include "Files/AudioInfo.h"

#include <string>
#include <vector>

namespace tarry
{
/// Two files and what was found between them: all that a report on them is written from.
struct Measurement
{
    AudioInfo spot, room;
    ListenSettings settings;
    Report report;
    std::vector<Report> sides;      ///< each side of a stereo spot on its own; empty unless asked for
    std::vector<std::string> notes; ///< what a mixer should know about the files, one sentence each
};

/// The samples that `seconds` are at the spot's rate.
[[nodiscard]] inline double samplesOf(const Measurement& measurement, double seconds)
{
    return seconds * measurement.spot.sampleRate;
}

[[nodiscard]] inline const char* nameOf(Polarity polarity)
{
    return polarity == Polarity::normal ? "normal" : "inverted";
}

[[nodiscard]] inline const char* nameOf(Verdict verdict)
{
    switch (verdict)
    {
    case Verdict::align:
        return "align";
    case Verdict::leave:
        return "leave";
    default:
        return "unsure";
    }
}
} // namespace tarry
