#include "Command/CleanEnd.h"

#include "Files/SafeFile.h"
#include "Files/System.h"

#include <atomic>
#include <chrono>
#include <csignal>
#include <cstdint>

namespace tarry::command
{
namespace
{
constexpr std::int64_t notYet = -1;
std::atomic<std::int64_t> firstWish = notYet; // ms of the steady clock
static_assert(std::atomic<std::int64_t>::is_always_lock_free, "a signal handler touches it");

// A terminal signals everyone in the foreground, and programs that started this one (timeout, sudo, a workflow engine)
// pass it on: the same Ctrl-C arrives twice.
constexpr std::int64_t sameWish = 1000; // ms

std::int64_t now() noexcept
{
    using namespace std::chrono; // clock_gettime underneath, which POSIX allows in a handler
    return duration_cast<milliseconds>(steady_clock::now().time_since_epoch()).count();
}

extern "C" void onSignal(int number)
{
    const auto at = now();
    auto first = notYet;
    if (firstWish.compare_exchange_strong(first, at) || at - first < sameWish) return;
    cleanUpOnSignals();
    std::raise(number);
}
} // namespace

CleanEnd::CleanEnd()
{
    firstWish = notYet;
    system::onInterruption(onSignal);
}

CleanEnd::~CleanEnd()
{
    cleanUpOnSignals();
}

bool CleanEnd::wished() noexcept
{
    return firstWish != notYet;
}
} // namespace tarry::command
