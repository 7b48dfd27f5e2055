// Linked only into programs that use the guard: it replaces functions of the whole program.
#include "Support/RealtimeGuard.h"

namespace
{
struct Watch
{
    bool on = false, locksAllowed = false;
    int count = 0, locks = 0;
    const char* first = nullptr;
};
thread_local Watch watch; // in the program itself: reaching it never allocates

[[maybe_unused]] void note(const char* name) noexcept
{
    if (!watch.on) return;
    if (watch.count++ == 0) watch.first = name;
}

[[maybe_unused]] void noteLock(const char* name) noexcept
{
    if (watch.locksAllowed)
        ++watch.locks;
    else
        note(name);
}
} // namespace

namespace tarry::test
{
RealtimeGuard::RealtimeGuard(Locks locks) noexcept
{
    watch = {true, locks == Locks::allowed, 0, 0, nullptr};
}
RealtimeGuard::~RealtimeGuard()
{
    watch.on = watch.locksAllowed = false;
}
int RealtimeGuard::count() const noexcept
{
    return watch.count;
}
int RealtimeGuard::locks() const noexcept
{
    return watch.locks;
}
const char* RealtimeGuard::first() const noexcept
{
    return watch.count == 0 ? "nothing" : watch.first;
}
} // namespace tarry::test

#if defined(__SANITIZE_ADDRESS__) || defined(__SANITIZE_THREAD__) || !defined(__GLIBC__)

bool tarry::test::RealtimeGuard::works() noexcept
{
    return false;
}

#else

bool tarry::test::RealtimeGuard::works() noexcept
{
    return true;
}

#include <cerrno>
#include <cstdarg>
#include <cstddef>
#include <cstdlib>
#include <ctime>
#include <dlfcn.h>
#include <fcntl.h>
#include <new>
#include <pthread.h>
#include <unistd.h>

// glibc's own allocator by its other names, so that the replacements have something to call.
extern "C" void* __libc_malloc(std::size_t);
extern "C" void* __libc_calloc(std::size_t, std::size_t);
extern "C" void* __libc_realloc(void*, std::size_t);
extern "C" void* __libc_memalign(std::size_t, std::size_t);
extern "C" void __libc_free(void*);

namespace
{
template <typename Function>
Function next(const char* name) noexcept
{
    return reinterpret_cast<Function>(dlsym(RTLD_NEXT, name)); // NOLINT: that is what dlsym gives
}
} // namespace

extern "C"
{
    void* malloc(std::size_t size) noexcept
    {
        note("malloc");
        return __libc_malloc(size);
    }
    void* calloc(std::size_t count, std::size_t size) noexcept
    {
        note("calloc");
        return __libc_calloc(count, size);
    }
    void* realloc(void* old, std::size_t size) noexcept
    {
        note("realloc");
        return __libc_realloc(old, size);
    }
    void* memalign(std::size_t alignment, std::size_t size) noexcept
    {
        note("memalign");
        return __libc_memalign(alignment, size);
    }
    void* aligned_alloc(std::size_t alignment, std::size_t size) noexcept
    {
        note("aligned_alloc");
        return __libc_memalign(alignment, size);
    }
    int posix_memalign(void** result, std::size_t alignment, std::size_t size) noexcept
    {
        note("posix_memalign");
        *result = __libc_memalign(alignment, size);
        return *result == nullptr ? ENOMEM : 0;
    }
    void free(void* block) noexcept
    {
        if (block != nullptr) note("free"); // of nothing is nothing
        __libc_free(block);
    }

    int pthread_mutex_lock(pthread_mutex_t* mutex) noexcept
    {
        static const auto original = next<int (*)(pthread_mutex_t*)>("pthread_mutex_lock");
        noteLock("pthread_mutex_lock");
        return original(mutex);
    }
    int pthread_cond_wait(pthread_cond_t* condition, pthread_mutex_t* mutex)
    {
        static const auto original = next<int (*)(pthread_cond_t*, pthread_mutex_t*)>("pthread_cond_wait");
        note("pthread_cond_wait");
        return original(condition, mutex);
    }
    int pthread_cond_timedwait(pthread_cond_t* condition, pthread_mutex_t* mutex, const timespec* until)
    {
        static const auto original =
            next<int (*)(pthread_cond_t*, pthread_mutex_t*, const timespec*)>("pthread_cond_timedwait");
        note("pthread_cond_timedwait");
        return original(condition, mutex, until);
    }
    int nanosleep(const timespec* wanted, timespec* rest)
    {
        static const auto original = next<int (*)(const timespec*, timespec*)>("nanosleep");
        note("nanosleep");
        return original(wanted, rest);
    }
    int clock_nanosleep(clockid_t clock, int flags, const timespec* wanted, timespec* rest)
    {
        static const auto original = next<int (*)(clockid_t, int, const timespec*, timespec*)>("clock_nanosleep");
        note("clock_nanosleep");
        return original(clock, flags, wanted, rest);
    }
    int open(const char* path, int flags, ...)
    {
        static const auto original = next<int (*)(const char*, int, ...)>("open");
        note("open");
        va_list more;
        va_start(more, flags);
        const int mode = va_arg(more, int);
        va_end(more);
        return original(path, flags, mode);
    }
    ssize_t write(int file, const void* data, std::size_t size)
    {
        static const auto original = next<ssize_t (*)(int, const void*, std::size_t)>("write");
        note("write");
        return original(file, data, size);
    }
}

// The compiler may leave out a new with its delete, or a library may bring operators of its own: replaced as well.
void* operator new(std::size_t size)
{
    note("operator new");
    if (void* block = __libc_malloc(size)) return block;
    throw std::bad_alloc();
}
void* operator new[](std::size_t size)
{
    return operator new(size);
}
void* operator new(std::size_t size, std::align_val_t alignment)
{
    note("operator new");
    if (void* block = __libc_memalign(static_cast<std::size_t>(alignment), size)) return block;
    throw std::bad_alloc();
}
void* operator new[](std::size_t size, std::align_val_t alignment)
{
    return operator new(size, alignment);
}
void operator delete(void* block) noexcept
{
    if (block != nullptr) note("operator delete");
    __libc_free(block);
}
void operator delete[](void* block) noexcept
{
    operator delete(block);
}
void operator delete(void* block, std::size_t) noexcept
{
    operator delete(block);
}
void operator delete[](void* block, std::size_t) noexcept
{
    operator delete(block);
}
void operator delete(void* block, std::align_val_t) noexcept
{
    operator delete(block);
}
void operator delete[](void* block, std::align_val_t) noexcept
{
    operator delete(block);
}
void operator delete(void* block, std::size_t, std::align_val_t) noexcept
{
    operator delete(block);
}
void operator delete[](void* block, std::size_t, std::align_val_t) noexcept
{
    operator delete(block);
}

#endif
