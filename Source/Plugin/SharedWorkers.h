#pragma once
#include <chrono>
#include <condition_variable>
#include <functional>
#include <mutex>
#include <thread>
#include <vector>

namespace tarry
{
/// The worker threads that all instances of a process share: as many as half the cores, however many instances there
/// are. Nothing of it is for the audio thread.
class SharedWorkers
{
public:
    /// Work that is done again and again until this is destroyed, which waits for a piece that is just being done.
    class Task
    {
    public:
        /// Does a piece of work and says how long to wait before the next. Never called by two threads at a time.
        using Piece = std::function<std::chrono::milliseconds()>;

        Task(SharedWorkers& workers, Piece work);
        ~Task();
        Task(const Task&) = delete;
        Task& operator=(const Task&) = delete;
        Task(Task&&) = delete;
        Task& operator=(Task&&) = delete;

    private:
        friend class SharedWorkers;
        SharedWorkers& shared;
        Piece piece;
        std::chrono::steady_clock::time_point due;
        bool busy = false;
    };

    SharedWorkers() = default;
    /// All tasks are gone by then.
    ~SharedWorkers();
    SharedWorkers(const SharedWorkers&) = delete;
    SharedWorkers& operator=(const SharedWorkers&) = delete;
    SharedWorkers(SharedWorkers&&) = delete;
    SharedWorkers& operator=(SharedWorkers&&) = delete;

private:
    void add(Task& task);
    void remove(Task& task);
    void run();
    [[nodiscard]] Task* next() const;

    std::mutex lock; // guards all of this, and what is due and busy of each task
    std::condition_variable changed, done;
    std::vector<Task*> tasks;
    std::vector<std::thread> threads;
    bool ending = false;
};
} // namespace tarry
