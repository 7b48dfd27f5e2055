#include "Command/Progress.h"

#include "Files/System.h"

#include <algorithm>
#include <cstdio>

namespace tarry::command
{
namespace
{
constexpr std::int64_t shortest = 30; // s
constexpr int width = 40;             // characters
} // namespace

Progress::Progress(std::string what, std::int64_t frames, int sampleRate)
    : label(std::move(what)), total(frames), visible(system::errorsAreSeen() && frames > shortest * sampleRate)
{
}

Progress::~Progress()
{
    if (shown >= 0) std::fputs("\r\033[K", stderr);
}

void Progress::at(std::int64_t frame)
{
    if (!visible) return;
    const int percent = static_cast<int>(std::clamp<std::int64_t>(100 * frame / total, 0, 100));
    if (percent == shown) return;
    shown = percent;
    const auto full = static_cast<std::size_t>(percent * width / 100);
    std::fprintf(stderr, "\r%s [%s%s] %3d %%", label.c_str(), std::string(full, '#').c_str(),
                 std::string(width - full, '.').c_str(), percent);
    std::fflush(stderr);
}
} // namespace tarry::command
