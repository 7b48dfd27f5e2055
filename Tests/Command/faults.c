// Loaded before the command (LD_PRELOAD), to let one call of the system's fail on purpose. TARRY_FAULT says which:
//   full N        the disk is full once a file that Tarry writes has N bytes
//   CALL K ERROR  the K-th call (from 1) of open, write, fsync, rename, link, fchmod, lseek or read fails with ERROR
//   CALL K ctrl-c MS  before the K-th call SIGINT arrives, and MS milliseconds later once more; MS -1: once. The call
//                 itself works
// A fault that was met makes the file TARRY_FAULT_MET: where it is not there, no such call was made so often.
// Only calls that concern files under TARRY_FAULT_IN are counted: the command's own files, not the system's.
#define _GNU_SOURCE
#include <dlfcn.h>
#include <errno.h>
#include <fcntl.h>
#include <signal.h>
#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

static long counted;

static int concerns(const char* path)
{
    const char* folder = getenv("TARRY_FAULT_IN");
    return folder != NULL && path != NULL && strncmp(path, folder, strlen(folder)) == 0;
}

static int concernsOpen(int file)
{
    char link[64], path[4096];
    snprintf(link, sizeof(link), "/proc/self/fd/%d", file);
    const ssize_t length = readlink(link, path, sizeof(path) - 1);
    if (length <= 0) return 0;
    path[length] = '\0';
    return concerns(path);
}

/// 1 where this call has to fail; errno is set.
static int fails(const char* call)
{
    const char* fault = getenv("TARRY_FAULT");
    char name[16];
    long at = 0;
    int error = 0, later = -1;
    if (fault == NULL || sscanf(fault, "%15s %ld", name, &at) != 2 || strcmp(name, call) != 0) return 0;
    const int isError = sscanf(fault, "%*s %*d %d", &error) == 1;
    const int isSignal = sscanf(fault, "%*s %*d ctrl-c %d", &later) == 1;
    if ((!isError && !isSignal) || __atomic_add_fetch(&counted, 1, __ATOMIC_SEQ_CST) != at) return 0;
    const char* met = getenv("TARRY_FAULT_MET");
    if (met != NULL) close(creat(met, 0600));
    if (isSignal)
    {
        raise(SIGINT);
        if (later > 0) usleep((useconds_t)later * 1000);
        if (later >= 0) raise(SIGINT);
        return 0;
    }
    errno = error;
    return 1;
}

#define REAL(type, name, ...)                                                                                          \
    static type (*real)(__VA_ARGS__);                                                                                  \
    if (real == NULL) *(void**)&real = dlsym(RTLD_NEXT, name)

ssize_t write(int file, const void* bytes, size_t count)
{
    REAL(ssize_t, "write", int, const void*, size_t);
    if (!concernsOpen(file)) return real(file, bytes, count);
    if (fails("write")) return -1;
    long limit = -1;
    const char* fault = getenv("TARRY_FAULT");
    if (fault != NULL && sscanf(fault, "full %ld", &limit) == 1)
    {
        const off_t at = lseek(file, 0, SEEK_CUR);
        if (at >= limit)
        {
            errno = ENOSPC;
            return -1;
        }
        if (at + (off_t)count > limit) count = (size_t)(limit - at);
    }
    return real(file, bytes, count);
}

ssize_t read(int file, void* bytes, size_t count)
{
    REAL(ssize_t, "read", int, void*, size_t);
    return concernsOpen(file) && fails("read") ? -1 : real(file, bytes, count);
}

int fsync(int file)
{
    REAL(int, "fsync", int);
    return concernsOpen(file) && fails("fsync") ? -1 : real(file);
}

int fchmod(int file, mode_t mode)
{
    REAL(int, "fchmod", int, mode_t);
    return concernsOpen(file) && fails("fchmod") ? -1 : real(file, mode);
}

int rename(const char* from, const char* to)
{
    REAL(int, "rename", const char*, const char*);
    return concerns(to) && fails("rename") ? -1 : real(from, to);
}

int link(const char* from, const char* to)
{
    REAL(int, "link", const char*, const char*);
    return concerns(to) && fails("link") ? -1 : real(from, to);
}

int open(const char* path, int flags, ...)
{
    REAL(int, "open", const char*, int, ...);
    va_list rest;
    va_start(rest, flags);
    const mode_t mode = (flags & O_CREAT) != 0 ? va_arg(rest, mode_t) : 0;
    va_end(rest);
    return concerns(path) && (flags & O_CREAT) != 0 && fails("open") ? -1 : real(path, flags, mode);
}
