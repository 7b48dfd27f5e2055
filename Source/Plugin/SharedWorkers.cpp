#include "Plugin/SharedWorkers.h"

#include <algorithm>
#include <utility>

namespace tarry
{
SharedWorkers::Task::Task(SharedWorkers& workers, Piece work)
    : shared(workers), piece(std::move(work)), due(std::chrono::steady_clock::now())
{
    shared.add(*this);
}

SharedWorkers::Task::~Task()
{
    shared.remove(*this);
}

SharedWorkers::~SharedWorkers()
{
    {
        const std::scoped_lock guard(lock);
        ending = true;
    }
    changed.notify_all();
    for (std::thread& thread : threads) thread.join();
}

void SharedWorkers::add(Task& task)
{
    const std::scoped_lock guard(lock);
    tasks.push_back(&task);
    const std::size_t most = std::max(1U, std::thread::hardware_concurrency() / 2);
    if (threads.size() < std::min(most, tasks.size())) threads.emplace_back([this] { run(); });
    changed.notify_one();
}

void SharedWorkers::remove(Task& task)
{
    std::unique_lock guard(lock);
    std::erase(tasks, &task); // first, or a piece could follow on the other for ever
    done.wait(guard, [&task] { return !task.busy; });
}

/// The one that has waited longest of those that nobody is at; null where there is none.
SharedWorkers::Task* SharedWorkers::next() const
{
    Task* first = nullptr;
    for (Task* task : tasks)
        if (!task->busy && (first == nullptr || task->due < first->due)) first = task;
    return first;
}

void SharedWorkers::run()
{
    std::unique_lock guard(lock);
    while (!ending)
    {
        Task* task = next();
        if (task == nullptr)
            changed.wait(guard);
        else if (const auto due = task->due; due > std::chrono::steady_clock::now())
            changed.wait_until(guard, due);
        else
        {
            task->busy = true;
            guard.unlock();
            const auto pause = task->piece();
            guard.lock();
            task->busy = false;
            task->due = std::chrono::steady_clock::now() + pause;
            done.notify_all();
        }
    }
}
} // namespace tarry
