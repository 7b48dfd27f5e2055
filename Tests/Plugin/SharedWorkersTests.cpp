#include "Plugin/SharedWorkers.h"

#include "Support/Catch.h"

#include <atomic>
#include <memory>
#include <set>
#include <thread>

using namespace tarry;
using namespace std::chrono_literals;

namespace
{
/// Waits until it holds; the test's own time limit is the only one.
template <typename Condition>
void until(Condition condition)
{
    while (!condition()) std::this_thread::sleep_for(1ms);
}
} // namespace

TEST_CASE("every task is done again and again, by no more threads than half the cores", "[workers]")
{
    SharedWorkers workers;
    constexpr std::size_t count = 40;
    std::mutex lock;
    std::set<std::thread::id> threads;
    std::vector<std::atomic<int>> pieces(count);
    std::vector<std::unique_ptr<SharedWorkers::Task>> tasks;
    for (std::atomic<int>& done : pieces)
        tasks.push_back(std::make_unique<SharedWorkers::Task>(workers,
                                                              [&]
                                                              {
                                                                  const std::scoped_lock guard(lock);
                                                                  threads.insert(std::this_thread::get_id());
                                                                  ++done;
                                                                  return 2ms;
                                                              }));
    for (const std::atomic<int>& done : pieces) until([&done] { return done >= 5; });
    tasks.clear();
    CHECK(threads.size() <= std::max(1U, std::thread::hardware_concurrency() / 2));
    CHECK(threads.count(std::this_thread::get_id()) == 0);
}

TEST_CASE("a task that ends waits for its piece and is not done again, the others go on", "[workers]")
{
    SharedWorkers workers;
    std::atomic<bool> begun{false}, finished{false};
    std::atomic<int> slow{0}, other{0};
    SharedWorkers::Task goesOn(workers,
                               [&]
                               {
                                   ++other;
                                   return 1ms;
                               });
    {
        SharedWorkers::Task task(workers,
                                 [&]
                                 {
                                     ++slow;
                                     begun = true;
                                     std::this_thread::sleep_for(30ms);
                                     finished = true;
                                     return 0ms;
                                 });
        until([&] { return begun.load(); });
    }
    CHECK(finished);
    const int pieces = slow, before = other;
    until([&] { return other > before + 3; });
    CHECK(slow == pieces);
}

TEST_CASE("no task is done by two threads at a time", "[workers]")
{
    SharedWorkers workers;
    std::atomic<int> inside{0}, most{0}, pieces{0};
    const auto piece = [&]
    {
        most = std::max(most.load(), ++inside);
        std::this_thread::sleep_for(2ms);
        --inside;
        ++pieces;
        return 0ms;
    };
    const SharedWorkers::Task task(workers, piece);
    const SharedWorkers::Task idle(workers, [] { return 1ms; }), idler(workers, [] { return 1ms; });
    until([&] { return pieces >= 20; });
    CHECK(most == 1);
}
