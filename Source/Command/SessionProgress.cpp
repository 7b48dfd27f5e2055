#include "Command/SessionProgress.h"

#include "Files/System.h"

#include <algorithm>
#include <cmath>
#include <cstdio>

namespace tarry::command
{
namespace
{
constexpr int width = 30;            // characters
constexpr double enoughToTell = 2.0; // s of work after which the time left is worth saying
} // namespace

SessionProgress::SessionProgress() : visible(system::errorsAreSeen()), begin(std::chrono::steady_clock::now()) {}

SessionProgress::~SessionProgress()
{
    if (drawn) std::fputs("\r\033[K", stderr);
}

void SessionProgress::show()
{
    if (!visible || total <= 0.0) return;
    const double share = std::clamp(done / total, 0.0, 1.0);
    const double spent = std::chrono::duration<double>(std::chrono::steady_clock::now() - begin).count();
    const auto full = static_cast<std::size_t>(share * width);
    std::string left;
    if (spent > enoughToTell && share > 0.0) left = ", " + durationText(spent * (1.0 - share) / share) + " left";
    std::fprintf(stderr, "\r\033[KSession [%s%s] %d of %d takes%s", std::string(full, '#').c_str(),
                 std::string(width - full, '.').c_str(), takes.load(), takesInAll.load(), left.c_str());
    std::fflush(stderr);
    drawn = true;
}

std::string durationText(double seconds)
{
    const long whole = std::lround(seconds);
    if (whole < 60) return std::to_string(whole) + " s";
    if (whole < 3600) return std::to_string(whole / 60) + " min " + std::to_string(whole % 60) + " s";
    return std::to_string(whole / 3600) + " h " + std::to_string(whole / 60 % 60) + " min";
}
} // namespace tarry::command
