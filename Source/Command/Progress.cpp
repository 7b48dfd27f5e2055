#include "Command/Progress.h"

#include "Files/System.h"

#include <algorithm>
#include <cstdio>

namespace tarry::command
{
namespace
{
constexpr double shortest = 30.0; // s
constexpr int width = 40;         // characters
} // namespace

Progress::Progress(std::string what) : label(std::move(what)), visible(system::errorsAreSeen()) {}

Progress::~Progress()
{
    if (shown >= 0) std::fputs("\r\033[K", stderr);
}

void Progress::at(double seconds, double ofSeconds)
{
    if (!visible || ofSeconds < shortest) return;
    const int percent = static_cast<int>(std::clamp(100.0 * seconds / ofSeconds, 0.0, 100.0));
    if (percent == shown) return;
    shown = percent;
    const auto full = static_cast<std::size_t>(percent * width / 100);
    std::fprintf(stderr, "\r%s [%s%s] %3d %%", label.c_str(), std::string(full, '#').c_str(),
                 std::string(width - full, '.').c_str(), percent);
    std::fflush(stderr);
}
} // namespace tarry::command
