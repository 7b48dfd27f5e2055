#pragma once
#include <cstddef> // also says which C library it is

namespace tarry::test
{
/// While one lives, whatever an audio thread must not do is noted on this thread: allocate, free, lock, wait, sleep,
/// open or write. The functions of the C library are replaced in the program that links RealtimeGuard.cpp; code in
/// other threads is not touched.
class RealtimeGuard
{
public:
    /// Locks that nobody else holds are `allowed` where a plugin is called through JUCE's wrappers, which take one in
    /// every block: then they are counted apart.
    enum class Locks
    {
        forbidden,
        allowed
    };
    explicit RealtimeGuard(Locks locks = Locks::forbidden) noexcept;
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
    /// Locks taken where they are allowed.
    [[nodiscard]] int locks() const noexcept;
};
} // namespace tarry::test
