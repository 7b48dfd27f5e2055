#include "Core/Capture/HitQueue.h"

#include "Support/Catch.h"

#include <thread>

using namespace tarry;

TEST_CASE("first in, first out; full is counted and drops the newest", "[queue]")
{
    HitQueue queue;
    queue.prepare(3, 1, 1, 4);
    CHECK(queue.beginRead() == nullptr);
    for (int round = 0; round < 5; ++round)
    {
        for (int i = 0; i < 5; ++i)
            if (Hit* hit = queue.beginWrite())
            {
                hit->number = 10 * round + i;
                queue.endWrite();
            }
        CHECK(queue.lost() == 2 * (round + 1));
        for (int i = 0; i < 3; ++i)
        {
            REQUIRE(queue.beginRead() != nullptr);
            CHECK(queue.beginRead()->number == 10 * round + i);
            queue.endRead();
        }
        CHECK(queue.beginRead() == nullptr);
    }
}

TEST_CASE("what is begun is not seen before it is ended", "[queue]")
{
    HitQueue queue;
    queue.prepare(2, 1, 1, 4);
    REQUIRE(queue.beginWrite() != nullptr);
    CHECK(queue.beginRead() == nullptr);
    queue.endWrite();
    CHECK(queue.beginRead() != nullptr);
}

TEST_CASE("prepare gives slots of the asked shape and forgets what was there", "[queue]")
{
    HitQueue queue;
    queue.prepare(2, 1, 1, 4);
    queue.beginWrite();
    queue.endWrite();
    queue.beginWrite();
    queue.endWrite();
    CHECK(queue.beginWrite() == nullptr);
    queue.prepare(1, 2, 8, 100);
    CHECK(queue.beginRead() == nullptr);
    CHECK(queue.lost() == 0);
    Hit* hit = queue.beginWrite();
    REQUIRE(hit != nullptr);
    CHECK(hit->spotChannels() == 2);
    CHECK(hit->roomChannels() == 8);
    CHECK(hit->spot(1).size() == 100);
    CHECK(hit->room(7).size() == 100);
}

TEST_CASE("one writer and one reader at once: nothing torn, nothing lost uncounted, order kept", "[queue][threads]")
{
    constexpr int hits = 20000, frames = 32;
    HitQueue queue;
    queue.prepare(8, 1, 1, frames);
    std::thread writer(
        [&queue]
        {
            for (int n = 0; n < hits; ++n)
            {
                Hit* hit = queue.beginWrite();
                if (hit == nullptr)
                {
                    std::this_thread::yield();
                    continue;
                }
                hit->number = n;
                for (float& x : hit->spot(0)) x = static_cast<float>(n);
                for (float& x : hit->room(0)) x = static_cast<float>(-n);
                queue.endWrite();
            }
        });
    std::int64_t latest = -1;
    int got = 0, torn = 0, disordered = 0;
    const auto drain = [&]
    {
        while (const Hit* hit = queue.beginRead())
        {
            ++got;
            disordered += hit->number <= latest ? 1 : 0;
            latest = hit->number;
            for (int i = 0; i < frames; ++i)
            {
                const auto k = static_cast<std::size_t>(i);
                const auto n = static_cast<float>(hit->number);
                torn += hit->spot(0)[k] != n || hit->room(0)[k] != -n ? 1 : 0;
            }
            queue.endRead();
        }
    };
    for (int round = 0; got + queue.lost() < hits && round < 100000000; ++round) drain();
    writer.join();
    drain();
    CHECK(torn == 0);
    CHECK(disordered == 0);
    CHECK(got + queue.lost() == hits);
    CHECK(got > 0);
}
