#pragma once
#include <filesystem>

/// What is asked in one way on Windows and in another elsewhere, and nothing else.
namespace tarry::system
{
/// The number of this process.
long processId();

/// Whether standard error is a terminal that somebody may be looking at.
bool errorsAreSeen();

/// Removes a file from within a signal handler, where only few calls are allowed; `file` ends with 0.
void removeFromSignal(const std::filesystem::path::value_type* file) noexcept;

/// Has `handle` called when the program is interrupted or its terminal goes away; a file that grows past the limit
/// becomes an error of the write instead of a signal.
void onInterruption(void (*handle)(int signalNumber));
} // namespace tarry::system
