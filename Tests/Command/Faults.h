#pragma once

#include "Support/Process.h"
#include "Support/Skip.h"

/// The command with one call of the system's going wrong: see faults.c.
namespace tarry::test
{
/// Runs `tarry` with one fault among the files of a folder. `met`: a file that is made where the fault was met.
inline ProcessResult runWithFault(const std::filesystem::path& folder, const std::string& fault,
                                  std::vector<std::string> arguments, const std::filesystem::path& met = "/dev/null")
{
    arguments.insert(arguments.begin(), {"env", "LD_PRELOAD=" TARRY_FAULTS, "TARRY_FAULT_IN=" + folder.string(),
                                         "TARRY_FAULT=" + fault, "TARRY_FAULT_MET=" + met.string(), TARRY_COMMAND});
    return runProgram(arguments);
}
} // namespace tarry::test

/// Leaves the test case where no fault can be made.
#if defined(__SANITIZE_ADDRESS__) || defined(__SANITIZE_THREAD__)
#define TARRY_NEED_FAULTS() TARRY_SKIP("sanitizers bear no library loaded before theirs")
#else
#define TARRY_NEED_FAULTS() (void)0
#endif
