#pragma once
#include <array>
#include <string>

namespace tarry::test
{
/// While one lives, whatever an audio thread must not do is noted on this thread: allocate, free, lock, wait, sleep,
/// open or write. The functions of the C library are replaced in the program that links RealtimeGuard.cpp; code in
/// other threads is not touched.
class RealtimeGuard
{
public:
    RealtimeGuard() noexcept;
    ~RealtimeGuard();
    RealtimeGuard(const RealtimeGuard&) = delete;
    RealtimeGuard& operator=(const RealtimeGuard&) = delete;
    RealtimeGuard(RealtimeGuard&&) = delete;
    RealtimeGuard& operator=(RealtimeGuard&&) = delete;

    /// False where a sanitizer owns these functions, so that nothing can be noted.
    [[nodiscard]] static bool works() noexcept;

    /// How many forbidden calls there have been since the start of this guard, and the first of them by name.
    [[nodiscard]] int count() const noexcept;
    [[nodiscard]] const char* first() const noexcept;
};
} // namespace tarry::test
