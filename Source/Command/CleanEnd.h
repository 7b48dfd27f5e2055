#pragma once

namespace tarry::command
{
/// While it lives, an interruption (Ctrl-C, a terminal that goes away, SIGTERM) is a wish to end: long work asks for
/// it, keeps what is done, and stops. Whoever asks again a second later is not made to wait: the program ends at once,
/// without half-written files. One at a time; main thread.
class CleanEnd
{
public:
    CleanEnd();
    ~CleanEnd();
    CleanEnd(const CleanEnd&) = delete;
    CleanEnd& operator=(const CleanEnd&) = delete;
    CleanEnd(CleanEnd&&) = delete;
    CleanEnd& operator=(CleanEnd&&) = delete;

    /// Any thread.
    [[nodiscard]] static bool wished() noexcept;
};
} // namespace tarry::command
