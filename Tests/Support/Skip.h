#pragma once

#include <string>

namespace tarry::test
{
/// The exit status of a test program of which a part was skipped and nothing failed; CTest shows it as 'Skipped'.
inline constexpr int skippedStatus = 77;

/// Prints `skipped: <test case>: <reason>` and remembers that this run is not a full one.
void noteSkipped(const std::string& reason);
} // namespace tarry::test

/// Leaves the test case, saying why. Only for things this machine lacks, never for a test that does not pass.
#define TARRY_SKIP(reason)                                                                                             \
    do                                                                                                                 \
    {                                                                                                                  \
        ::tarry::test::noteSkipped(reason);                                                                            \
        return;                                                                                                        \
    } while (false)
