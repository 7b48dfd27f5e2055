#include "Hall/SessionScore.h"

#include "Support/Catch.h"

#include <algorithm>
#include <cmath>
#include <set>
#include <stdexcept>

using namespace tarry;
using namespace tarry::hall;

TEST_CASE("a score holds twelve cues of four spots, two setups, and one of each fault")
{
    const auto takes = scoreOf({});
    REQUIRE(takes.size() == 48);
    std::set<std::string> setups;
    int cue = 0, moved = 0, broken = 0, clicks = 0, sections = 0;
    std::set<std::string> drifting;
    for (const auto& take : takes)
    {
        setups.insert(take.setup);
        cue = std::max(cue, take.cue);
        moved += take.moved ? 1 : 0;
        broken += take.broken ? 1 : 0;
        clicks += take.clicks ? 1 : 0;
        sections += take.section ? 1 : 0;
        if (take.driftPpm != 0.0) drifting.insert(take.setup + take.instrument);
    }
    CHECK(setups == std::set<std::string>{"A", "B"});
    CHECK(cue == 12);
    CHECK(moved == 3); // from the fourth cue to the last of its setup
    CHECK(broken == 1);
    CHECK(clicks == 1);
    CHECK(sections == 1);
    CHECK(drifting.size() == 1);
}

TEST_CASE("takes of one setup share their lag, up to where the stick falls; the moved stand is 0.6 m of air away")
{
    const ScoreSpec spec{1, 48000.0, 20.0};
    const auto takes = scoreOf(spec);
    const auto lagOf = [&](int cue, int stand)
    { return recordTake(spec, takes[static_cast<std::size_t>(4 * (cue - 1) + stand)]).lag; };
    CHECK(lagOf(1, 1) == Approx(lagOf(2, 1)).margin(3e-5));
    CHECK(lagOf(4, 1) - lagOf(1, 1) == Approx(0.6 / 343.2).margin(2e-4));
    CHECK(std::abs(lagOf(7, 1) - lagOf(1, 1)) > 1e-4); // another setup
}

TEST_CASE(
    "a score's samples are the same each time, of their length, within full scale; specs out of range are refused")
{
    const ScoreSpec spec{3, 44100.0, 20.0};
    const auto takes = scoreOf(spec);
    const auto one = recordTake(spec, takes[0]), again = recordTake(spec, takes[0]);
    CHECK(one.spot == again.spot);
    CHECK(one.room == again.room);
    CHECK(one.spot.size() == 882000);
    CHECK(one.room.size() == one.spot.size());
    const auto peak = [](const std::vector<float>& x) {
        return std::abs(
            *std::max_element(x.begin(), x.end(), [](float a, float b) { return std::abs(a) < std::abs(b); }));
    };
    CHECK(peak(one.spot) == Approx(0.5F).margin(0.01F));
    CHECK(peak(recordTake(spec, takes[8]).spot) == Approx(0.025F).margin(0.005F)); // played softly
    CHECK_THROWS_AS(scoreOf({1, 48000.0, 5.0}), std::invalid_argument);
    CHECK_THROWS_AS(scoreOf({1, 8000.0, 60.0}), std::invalid_argument);
}
