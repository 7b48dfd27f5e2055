#pragma once
#include "Files/SessionRecord.h"

#include <filesystem>
#include <optional>
#include <string>
#include <vector>

namespace tarry
{
/// One line of a plan: a spot to be measured against a room.
struct PlanRow
{
    int line = 0;                      ///< of the file, from 1
    std::string cue, take, setup;      ///< never empty
    std::string spotText, roomText;    ///< as written, with '/'
    std::filesystem::path spot, room;  ///< where they are
    std::string roomChannel = "first"; ///< first, left, right, centre, or a number from 1
    std::string instrument, note, by;  ///< may be empty; `by`: who decided
    std::optional<double> taped;       ///< m, 0.3 to 100
    std::optional<double> temperature; ///< degrees Celsius
    std::optional<Decision> decision;  ///< none: by the verdict
    double lean = 0.0;                 ///< s, -0.020 to 0.030
    bool clap = false;                 ///< a clap or slate stands at its head
    std::string print;                 ///< where its print goes in the output folder, with '/'

    /// Names what does not move between its takes: the setup, and in it the instrument.
    [[nodiscard]] std::string pool() const { return instrument.empty() ? setup : setup + " · " + instrument; }
};

/// The takes to work through in one go.
struct Plan
{
    std::filesystem::path file;
    std::string changed; ///< when the file was last changed, ISO 8601, UTC
    std::vector<PlanRow> rows;
};

/// What is wrong with a plan: every fault, in order of lines.
struct PlanFault
{
    int line = 0; ///< 0: the file as a whole
    std::string what;
};

struct PlanReading
{
    Plan plan; ///< whole only without faults
    std::vector<PlanFault> faults;
};

/// Reads a plan and looks for all that is wrong with it, files that are not there included. Throws InputError where
/// the file cannot be read at all.
[[nodiscard]] PlanReading readPlan(const std::filesystem::path& file);

/// The columns that have to be there, and those that may.
inline constexpr const char* planColumns = "cue, take, setup, spot, room; and where wanted room_channel, instrument, "
                                           "taped_m, temperature_c, decision, lean_ms, clap, by, note";
} // namespace tarry
