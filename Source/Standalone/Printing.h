#pragma once
#include "Plugin/Processor.h"

#include <filesystem>
#include <string>

namespace tarry::standalone
{
/// What is to be printed, taken from the processor on the screen's thread: a plain value for the thread that prints.
struct PrintOrder
{
    std::filesystem::path spot, room; ///< the room only to be sure that it is not overwritten; may be empty
    std::filesystem::path output;
    Sides sides; ///< as held, with the lean on top
    bool wholeSamples = false;
    double lookAhead = 0.0; ///< s
};

/// What the processor holds now, files left empty. None where nothing has been taken or set yet. [screen]
[[nodiscard]] std::optional<PrintOrder> orderFrom(const Processor& processor);

/// Prints as the command does and says what was done, in one line. Throws InputError, OutputError.
std::string print(const PrintOrder& order);
} // namespace tarry::standalone
