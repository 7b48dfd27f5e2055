#pragma once
#include "Core/Capture/Hit.h"
#include "Core/Ground/Settings.h"
#include "Files/Places.h"
#include "Files/Plan.h"

#include <functional>

namespace tarry
{
/// One take as measured on its own, to be pooled with others.
struct MeasuredTake
{
    SessionRow row;             ///< files and own figures
    MeasureSettings settings;   ///< without clap
    bool byClap = false;        ///< the own figures are those of a clap at its head
    double seconds = 0.0;       ///< length of the spot
    std::vector<TimedLag> hits; ///< that count, in order of time
    std::optional<double> taped, temperature;
    std::string by;                       ///< who decided, where the plan says so
    std::string spotMachine, roomMachine; ///< as the files name their recorders; may be empty

    [[nodiscard]] bool isSure() const; ///< has a lag of its own that may be trusted
};

/// A few of a take's captured hits, the most telling first.
using HitsOf = std::function<std::vector<Hit>(const MeasuredTake&)>;

/// Pools takes that share a setup and instrument (at least one, in the plan's order): finds where the stand was moved
/// and whether clocks drift, joins the evidence of the takes at one place, and says for each take which lag holds,
/// what is to be done, and what wants an ear. planned: when the plan was changed.
[[nodiscard]] SessionRecord poolTakes(const std::vector<MeasuredTake>& takes, const std::string& planned,
                                      const HitsOf& hitsOf);
} // namespace tarry
