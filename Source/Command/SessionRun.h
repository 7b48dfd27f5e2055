#pragma once
#include "Command/SessionSetups.h"

#include <filesystem>

namespace tarry::command
{
/// What to work through.
struct SessionWork
{
    Plan plan;
    SessionSettings settings;
    std::filesystem::path output;
    int jobs = 1;
    bool resume = false; ///< take what was done before and still holds
    std::optional<Shard> shard;
};

/// What came of it.
struct SessionOutcome
{
    bool interrupted = false;                ///< something is left to be done
    bool couldNotWrite = false;              ///< at least one print
    int takes = 0, measured = 0, failed = 0; ///< of the plan or shard; measured: now, not earlier
    int prints = 0, printed = 0;             ///< the same
    double seconds = 0.0, sound = 0.0;       ///< s that it took; of sound measured in them
};

/// Measures, pools and prints all takes of a plan or a share of them, on several threads; each setup's result is then
/// in the output's work folder. One take's failure stops no other. Ends early where CleanEnd is wished.
/// Throws OutputError where the work folder cannot be written.
[[nodiscard]] SessionOutcome runSession(const SessionWork& work);
} // namespace tarry::command
