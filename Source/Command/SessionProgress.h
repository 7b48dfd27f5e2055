#pragma once
#include <atomic>
#include <chrono>
#include <string>

namespace tarry::command
{
/// How far a session is, on standard error: a bar with the time left on a terminal, gone afterwards; nothing else.
class SessionProgress
{
public:
    SessionProgress();
    ~SessionProgress();
    SessionProgress(const SessionProgress&) = delete;
    SessionProgress& operator=(const SessionProgress&) = delete;
    SessionProgress(SessionProgress&&) = delete;
    SessionProgress& operator=(SessionProgress&&) = delete;

    /// Work that is to come, in seconds of sound, and what has been done of it. Any thread.
    void expect(double seconds) { total = total + seconds; }
    void did(double seconds) { done = done + seconds; }
    void takeDone() { ++takes; }
    void expectTakes(int count) { takesInAll += count; }

    void show(); ///< main thread

private:
    bool visible, drawn = false;
    std::chrono::steady_clock::time_point begin;
    std::atomic<double> total = 0.0, done = 0.0; // s of sound
    std::atomic<int> takes = 0, takesInAll = 0;
};

/// "2 h 5 min", "3 min 20 s", "8 s"
[[nodiscard]] std::string durationText(double seconds);
} // namespace tarry::command
