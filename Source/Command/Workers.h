#pragma once
#include <atomic>
#include <condition_variable>
#include <deque>
#include <exception>
#include <functional>
#include <mutex>

namespace tarry::command
{
/// Several threads that work off a list of jobs, which may add more. A job that throws ends all of it.
class Workers
{
public:
    using Job = std::function<void()>;

    void add(Job job);      ///< to be done after the others
    void addFirst(Job job); ///< to be done next. Any thread

    /// Works until nothing is left, or stopped. meanwhile: called on this thread about four times a second. Throws
    /// what a job threw.
    void run(int threads, const std::function<void()>& meanwhile);

    /// Starts no more jobs. Those that run look at `isStopped`. Any thread.
    void stop();
    [[nodiscard]] bool isStopped() const { return stopped; }

private:
    void work();

    std::mutex lock;
    std::condition_variable changed;
    std::deque<Job> jobs;
    int busy = 0, alive = 0;
    std::atomic<bool> stopped = false;
    std::exception_ptr problem;
};
} // namespace tarry::command
