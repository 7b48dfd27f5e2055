#include "Command/Workers.h"

#include <chrono>
#include <thread>
#include <vector>

namespace tarry::command
{
void Workers::add(Job job)
{
    const std::scoped_lock guard(lock);
    jobs.push_back(std::move(job));
    changed.notify_all();
}

void Workers::addFirst(Job job)
{
    const std::scoped_lock guard(lock);
    jobs.push_front(std::move(job));
    changed.notify_all();
}

void Workers::stop()
{
    stopped = true;
    const std::scoped_lock guard(lock);
    changed.notify_all();
}

void Workers::work()
{
    std::unique_lock guard(lock);
    while (true)
    {
        changed.wait(guard, [this] { return stopped || !jobs.empty() || busy == 0; });
        if (stopped || jobs.empty()) break;
        const Job job = std::move(jobs.front());
        jobs.pop_front();
        ++busy;
        guard.unlock();
        std::exception_ptr thrown;
        try
        {
            job();
        }
        catch (...)
        {
            thrown = std::current_exception();
        }
        guard.lock();
        --busy;
        if (thrown && !problem) problem = thrown;
        if (thrown) stopped = true;
        changed.notify_all();
    }
    --alive;
    changed.notify_all();
}

void Workers::run(int threads, const std::function<void()>& meanwhile)
{
    using namespace std::chrono_literals;
    {
        std::vector<std::jthread> team;
        alive = threads;
        for (int i = 0; i < threads; ++i) team.emplace_back([this] { work(); });
        std::unique_lock guard(lock);
        while (alive > 0)
        {
            changed.wait_for(guard, 250ms, [this] { return alive == 0; });
            guard.unlock();
            meanwhile();
            guard.lock();
        }
    }
    if (problem) std::rethrow_exception(problem);
}
} // namespace tarry::command
