#include "Files/System.h"

#include <csignal>
#include <cstdio>
#ifdef _WIN32
#include <io.h>
#include <process.h>
#else
#include <unistd.h>
#endif

namespace tarry::system
{
#ifdef _WIN32
long processId()
{
    return _getpid();
}

bool errorsAreSeen()
{
    return _isatty(_fileno(stderr)) != 0;
}

void removeFromSignal(const std::filesystem::path::value_type* file) noexcept
{
    _wunlink(file);
}

void onInterruption(void (*handle)(int signalNumber))
{
    for (const int signalNumber : {SIGINT, SIGTERM}) std::signal(signalNumber, handle);
}
#else
long processId()
{
    return getpid();
}

bool errorsAreSeen()
{
    return isatty(STDERR_FILENO) != 0;
}

void removeFromSignal(const std::filesystem::path::value_type* file) noexcept
{
    unlink(file);
}

void onInterruption(void (*handle)(int signalNumber))
{
    for (const int signalNumber : {SIGINT, SIGTERM, SIGHUP}) std::signal(signalNumber, handle);
    std::signal(SIGXFSZ, SIG_IGN); // then the write fails with EFBIG and is reported
}
#endif
} // namespace tarry::system
