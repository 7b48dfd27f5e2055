#include "Files/LaidPair.h"

#include "Files/Fixtures.h"
#include "Support/Catch.h"
#include "Support/Process.h"

#include <algorithm>
#include <cmath>

using namespace tarry;
using namespace tarry::test;

namespace
{
/// A count that goes on through both files: the sample at time t of the clock is t * rate / 2^20.
std::vector<double> counting(std::int64_t from, std::size_t frames)
{
    std::vector<double> samples(frames);
    for (std::size_t i = 0; i < frames; ++i)
        samples[i] = std::ldexp(static_cast<double>(from) + static_cast<double>(i), -20);
    return samples;
}

struct Read
{
    std::vector<float> spot, room;
};

Read readAll(LaidPair& pair, int block)
{
    Read all;
    std::vector<float> spot(static_cast<std::size_t>(block)), room(spot);
    float *spots = spot.data(), *rooms = room.data();
    for (int got = block; got == block;)
    {
        got = pair.read(&spots, &rooms, block);
        all.spot.insert(all.spot.end(), spot.begin(), spot.begin() + got);
        all.room.insert(all.room.end(), room.begin(), room.begin() + got);
    }
    return all;
}
} // namespace

TEST_CASE("laid by their time references: what was recorded at once is read at once, whichever started first")
{
    const TemporaryFolder folder;
    const std::uint64_t noon = 12ULL * 3600 * 48000;
    for (const std::int64_t later : {0, 1, 700, 48000, -1, -700, -48000})
        for (const std::uint64_t base : {noon, std::uint64_t{48000}, std::uint64_t{1} << 63})
        {
            makeStamped(folder / "spot.wav", 48000, counting(100000, 100000), base);
            makeStamped(folder / "room.wav", 48000, counting(100000 + later, 100000),
                        base + static_cast<std::uint64_t>(later));
            LaidPair pair(folder / "spot.wav", folder / "room.wav");
            INFO("room " << later << " samples later, spot at " << base);
            CHECK(pair.byTimeStamp());
            CHECK(pair.start() == std::max<std::int64_t>(0, later));
            const auto read = readAll(pair, 999);
            REQUIRE(read.spot.size() > 40000);
            const std::size_t both =
                std::min<std::size_t>(read.spot.size(), 100000U - static_cast<std::size_t>(pair.start()));
            for (std::size_t i = 0; i < both; ++i) REQUIRE(read.spot[i] == read.room[i]);
            CHECK(pair.notes().empty() == (later == 0));
        }
}

TEST_CASE("only one carries a time reference, or neither: they start together, and that is said where it matters")
{
    const TemporaryFolder folder;
    makeStamped(folder / "stamped.wav", 48000, counting(0, 5000), 48000);
    makeFile(folder / "plain.wav", SF_FORMAT_WAV | SF_FORMAT_FLOAT, 1, 48000, counting(0, 5000));
    for (const auto& [spot, room] : {std::pair("stamped.wav", "plain.wav"), {"plain.wav", "stamped.wav"}})
    {
        LaidPair pair(folder / spot, folder / room);
        CHECK_FALSE(pair.byTimeStamp());
        CHECK(pair.start() == 0);
        REQUIRE(pair.notes().size() == 1);
        INFO(pair.notes().front());
        CHECK(contains(pair.notes().front(), "taken to start together"));
    }
    CHECK(LaidPair(folder / "plain.wav", folder / "plain.wav").notes().empty());
}

TEST_CASE("time references that never meet are refused with the way out, which takes no notice of them")
{
    const TemporaryFolder folder;
    makeStamped(folder / "spot.wav", 48000, counting(0, 5000), 0);
    makeStamped(folder / "room.wav", 48000, counting(0, 5000), 48000ULL * 3600);
    CHECK_THROWS_AS(LaidPair(folder / "spot.wav", folder / "room.wav"), InputError);
    try
    {
        const LaidPair never(folder / "room.wav", folder / "spot.wav");
    }
    catch (const InputError& problem)
    {
        CHECK(contains(problem.what(), "--start-together"));
    }
    LaidPair pair(folder / "spot.wav", folder / "room.wav", true);
    CHECK_FALSE(pair.byTimeStamp());
    const auto read = readAll(pair, 1024);
    CHECK(read.spot == read.room);
    REQUIRE(pair.notes().size() == 1);
    CHECK(contains(pair.notes().front(), "3600.000 s apart"));
}

TEST_CASE("laid at different rates: to the spot's sample")
{
    const TemporaryFolder folder;
    const auto click = [](int rate, double start, double at)
    {
        std::vector<double> samples(static_cast<std::size_t>(2 * rate), 0.0);
        samples[static_cast<std::size_t>(std::lround((at - start) * rate))] = 0.9;
        return samples;
    };
    for (const double apart : {0.5, -0.5}) // s from the spot's start to the room's
    {
        makeStamped(folder / "spot.wav", 48000, click(48000, 1.0, 2.25), 48000);
        makeStamped(folder / "room.wav", 96000, click(96000, 1.0 + apart, 2.25),
                    static_cast<std::uint64_t>(96000 * (1.0 + apart)));
        LaidPair pair(folder / "spot.wav", folder / "room.wav");
        const auto read = readAll(pair, 4096);
        const auto peak = [](const std::vector<float>& x) { return std::max_element(x.begin(), x.end()) - x.begin(); };
        INFO("apart " << apart);
        CHECK(peak(read.spot) == peak(read.room));
        CHECK(pair.roomStartsAfter() == Approx(apart).margin(1e-12));
    }
}
