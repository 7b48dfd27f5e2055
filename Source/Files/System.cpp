#include "Files/System.h"

#include <algorithm>
#include <cerrno>
#include <csignal>
#include <cstdio>
#include <fcntl.h>
#include <sys/stat.h>
#ifdef _WIN32
#include <io.h>
#include <windows.h>
#else
#include <sys/file.h>
#include <unistd.h>
#endif

namespace tarry::system
{
namespace
{
/// Windows has numbers of its own for what errno says.
int asErrno(const std::error_code& problem)
{
    const auto condition = problem.default_error_condition();
    return !problem ? 0 : condition.category() == std::generic_category() ? condition.value() : EIO;
}
} // namespace

#ifdef _WIN32
namespace
{
constexpr int openFlags = _O_BINARY | _O_NOINHERIT;

int lastError()
{
    return asErrno({static_cast<int>(GetLastError()), std::system_category()});
}
} // namespace

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

int createLocked(const std::filesystem::path& file, bool)
{
    // To be moved while it is open, and written by nobody else.
    const HANDLE made = CreateFileW(file.c_str(), GENERIC_READ | GENERIC_WRITE, FILE_SHARE_READ | FILE_SHARE_DELETE,
                                    nullptr, CREATE_NEW, FILE_ATTRIBUTE_NORMAL, nullptr);
    if (made != INVALID_HANDLE_VALUE)
        return _open_osfhandle(reinterpret_cast<std::intptr_t>(made), _O_RDWR | openFlags);
    errno = lastError();
    return -1;
}

void removeIfUnlocked(const std::filesystem::path& file)
{
    // Alone or not at all: while a living program has it open, this fails.
    const HANDLE left =
        CreateFileW(file.c_str(), DELETE, 0, nullptr, OPEN_EXISTING, FILE_FLAG_DELETE_ON_CLOSE, nullptr);
    if (left != INVALID_HANDLE_VALUE) CloseHandle(left);
}

void close(int descriptor) noexcept
{
    _close(descriptor);
}

int keepModeAndOwner(int, const std::filesystem::path&)
{
    return 0; // what is replaced hands its rights on with its folder's
}

int flush(int descriptor)
{
    return _commit(descriptor) == 0 ? 0 : errno;
}

int flushFolder(const std::filesystem::path&)
{
    return 0; // the system keeps its own journal
}

int moveToFreePlace(const std::filesystem::path& from, const std::filesystem::path& to)
{
    return _wrename(from.c_str(), to.c_str()) == 0 ? 0 : errno; // never over another
}

int seek(int descriptor, std::int64_t place) noexcept
{
    return _lseeki64(descriptor, place, SEEK_SET) >= 0 ? 0 : errno;
}

std::int64_t sizeOf(int descriptor) noexcept
{
    return std::max<std::int64_t>(_filelengthi64(descriptor), 0);
}

std::size_t longestName(const std::filesystem::path&)
{
    return 255;
}

namespace
{
std::int64_t writeSome(int descriptor, const char* from, std::size_t count) noexcept
{
    return _write(descriptor, from, static_cast<unsigned>(std::min<std::size_t>(count, 1U << 30U)));
}

std::int64_t readSome(int descriptor, char* to, std::int64_t count) noexcept
{
    return _read(descriptor, to, static_cast<unsigned>(std::min<std::int64_t>(count, 1 << 30)));
}

int openDevice(const std::filesystem::path& device)
{
    return _wopen(device.c_str(), _O_WRONLY | openFlags);
}
} // namespace

int openToRead(const std::filesystem::path& file)
{
    return _wopen(file.c_str(), _O_RDONLY | openFlags);
}
#else
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

int createLocked(const std::filesystem::path& file, bool hidden)
{
    const int made = open(file.c_str(), O_RDWR | O_CREAT | O_EXCL | O_NOFOLLOW | O_CLOEXEC, hidden ? 0600 : 0666);
    if (made < 0) return -1;
    flock(made, LOCK_EX | LOCK_NB); // where there are no locks, nobody takes it for a leftover either
    // Between the two another program may have taken it for one and removed it.
    struct stat inHand
    {
    }, inFolder{};
    if (fstat(made, &inHand) == 0 && lstat(file.c_str(), &inFolder) == 0 && inHand.st_ino == inFolder.st_ino)
        return made;
    ::close(made);
    errno = EEXIST; // try another
    return -1;
}

void removeIfUnlocked(const std::filesystem::path& file)
{
    const int left = open(file.c_str(), O_RDWR | O_NOFOLLOW | O_NONBLOCK | O_CLOEXEC);
    if (left < 0) return;
    struct stat about
    {
    };
    const bool ours = fstat(left, &about) == 0 && S_ISREG(about.st_mode) && about.st_uid == geteuid();
    if (ours && flock(left, LOCK_EX | LOCK_NB) == 0) unlink(file.c_str());
    ::close(left);
}

void close(int descriptor) noexcept
{
    ::close(descriptor);
}

int keepModeAndOwner(int descriptor, const std::filesystem::path& other)
{
    struct stat before
    {
    };
    if (stat(other.c_str(), &before) != 0) return 0; // gone meanwhile
    // Whom it belongs to, only the system's administrator can keep; its group, those who are in it.
    const bool kept = fchown(descriptor, before.st_uid, before.st_gid) == 0 ||
                      fchown(descriptor, static_cast<uid_t>(-1), before.st_gid) == 0;
    const mode_t mode = before.st_mode & (kept ? 07777U : 01777U);
    return fchmod(descriptor, mode) == 0 ? 0 : errno;
}

int flush(int descriptor)
{
    // Some file systems have nothing to flush and say so.
    return fsync(descriptor) == 0 || errno == EINVAL || errno == ENOTSUP ? 0 : errno;
}

int flushFolder(const std::filesystem::path& folder)
{
    const int place = open(folder.c_str(), O_RDONLY | O_DIRECTORY | O_CLOEXEC);
    if (place < 0) return 0; // one may write in it and not read it
    const int error = flush(place);
    ::close(place);
    return error;
}

int moveToFreePlace(const std::filesystem::path& from, const std::filesystem::path& to)
{
    if (link(from.c_str(), to.c_str()) != 0) return errno;
    unlink(from.c_str());
    return 0;
}

int seek(int descriptor, std::int64_t place) noexcept
{
    return lseek(descriptor, place, SEEK_SET) >= 0 ? 0 : errno;
}

std::int64_t sizeOf(int descriptor) noexcept
{
    struct stat about
    {
    };
    return fstat(descriptor, &about) == 0 ? about.st_size : 0;
}

std::size_t longestName(const std::filesystem::path& folder)
{
    const long longest = pathconf(folder.c_str(), _PC_NAME_MAX);
    return longest > 0 ? static_cast<std::size_t>(longest) : 255;
}

namespace
{
std::int64_t writeSome(int descriptor, const char* from, std::size_t count) noexcept
{
    return ::write(descriptor, from, count);
}

std::int64_t readSome(int descriptor, char* to, std::int64_t count) noexcept
{
    return ::read(descriptor, to, static_cast<std::size_t>(count));
}

int openDevice(const std::filesystem::path& device)
{
    return open(device.c_str(), O_WRONLY | O_CLOEXEC);
}
} // namespace

int openToRead(const std::filesystem::path& file)
{
    return open(file.c_str(), O_RDONLY | O_CLOEXEC);
}
#endif

void discard(int descriptor, const std::filesystem::path& file) noexcept
{
    system::close(descriptor);
    removeFromSignal(file.c_str());
}

int moveOver(const std::filesystem::path& from, const std::filesystem::path& to)
{
    std::error_code problem;
    std::filesystem::rename(from, to, problem);
    return asErrno(problem);
}

int write(int descriptor, std::string_view bytes) noexcept
{
    while (!bytes.empty())
    {
        const auto done = writeSome(descriptor, bytes.data(), bytes.size());
        if (done < 0 && errno == EINTR) continue;
        if (done < 0) return errno;
        if (done == 0) return ENOSPC;
        bytes.remove_prefix(static_cast<std::size_t>(done));
    }
    return 0;
}

int writeToDevice(const std::filesystem::path& device, std::string_view bytes)
{
    const int open = openDevice(device);
    if (open < 0) return errno;
    const int error = write(open, bytes);
    system::close(open);
    return error;
}

std::int64_t read(int descriptor, char* to, std::int64_t count) noexcept
{
    for (;;)
        if (const auto got = readSome(descriptor, to, count); got >= 0 || errno != EINTR) return got;
}
} // namespace tarry::system
