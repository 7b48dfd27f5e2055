#include "Files/SetupPool.h"

#include "Files/Fixtures.h"
#include "Support/Catch.h"

using namespace tarry;
using namespace tarry::test;

namespace
{
/// A take that is sure of its lag; nothing of it is kept but its figures.
MeasuredTake takeOf(const std::string& cue, double lag, double confidence = 0.97)
{
    MeasuredTake take;
    take.row.cue = cue;
    take.row.take = "1";
    take.row.setup = "A";
    take.row.line = std::stoi(cue) + 1;
    take.row.own.lag = lag;
    take.row.own.confidence = confidence;
    take.row.own.verdict = confidence >= 0.9 ? Verdict::align : Verdict::unsure;
    take.row.own.reasons = {confidence >= 0.9 ? "All hits agree." : "The arrival does not stand clear."};
    take.seconds = 60.0;
    return take;
}

SessionRecord pooled(const std::vector<MeasuredTake>& takes)
{
    return poolTakes(takes, "2026-03-01T20:15:00Z", [](const MeasuredTake&) { return std::vector<Hit>(); });
}

std::size_t ears(const SessionRecord& record)
{
    std::size_t count = 0;
    for (const auto& row : record.rows) count += row.wantsEar.empty() ? 0U : 1U;
    return count;
}
} // namespace

TEST_CASE("a clap at the head of one take serves all that stand where it stood")
{
    auto clap = takeOf("2", 0.0311, 0.96);
    clap.byClap = true;
    const auto record = pooled({takeOf("1", 0.0315, 0.4), clap, takeOf("3", 0.0309, 0.5)});
    REQUIRE(record.setups.size() == 1);
    CHECK(record.setups[0].byClap);
    for (const auto& row : record.rows)
    {
        CHECK(row.lag == 0.0311);
        CHECK(row.fromPool);
        CHECK(row.verdict == Verdict::align);
        CHECK(row.decision == Decision::align);
        CHECK(contains(row.reasons[0], "clap"));
    }
    CHECK(record.rows[0].againstPool == Approx(0.0004));
    CHECK(contains(record.rows[0].reasons[1], "On its own: "));
    CHECK(ears(record) == 0);
}

TEST_CASE("a move is told at the first take at the new place, by how much and since when")
{
    const auto record = pooled({takeOf("1", 0.0310), takeOf("2", 0.0311), takeOf("3", 0.0325), takeOf("4", 0.0326)});
    REQUIRE(record.setups.size() == 2);
    CHECK(record.setups[1].name == "A, moved");
    CHECK(record.setups[1].firstCue == "3");
    CHECK(ears(record) == 1);
    CHECK_FALSE(record.rows[1].moved);
    REQUIRE(record.rows[2].moved);
    REQUIRE(record.rows[3].moved);
    CHECK(record.rows[3].moved->by == Approx(0.0015));
    CHECK(record.rows[3].moved->sinceCue == "3");
    CHECK(contains(record.rows[2].wantsEar[0], "1.50 ms longer (31.05 ms before, 32.55 ms since cue 3, take 1)"));
}

TEST_CASE("a move within a take is told to the second, and that take is not aligned as one")
{
    auto within = takeOf("2", 0.0310, 0.6);
    within.row.own.verdict = Verdict::leave;
    for (int i = 0; i < 10; ++i) within.hits.push_back({5.0 * i, i < 6 ? 0.0310 : 0.0325});
    const auto record = pooled({takeOf("1", 0.0310), within, takeOf("3", 0.0325)});
    REQUIRE(record.rows[1].moved);
    CHECK(record.rows[1].moved->sinceTime == 30.0);
    CHECK(record.rows[1].moved->by == Approx(0.0015));
    CHECK(record.rows[1].decision == Decision::leave);
    CHECK(contains(record.rows[1].wantsEar[0], "within this take, after 30 s"));
    REQUIRE(record.rows[2].moved); // told once, with the take in which it happened
    CHECK(record.rows[2].moved->sinceCue == "2");
    CHECK(record.rows[2].wantsEar.empty());
}

TEST_CASE("clocks that differ are joined over takes by how well each knows; takes then keep their own lags")
{
    std::vector<MeasuredTake> takes;
    for (const auto& [cue, ppm, sd] : {std::tuple{"1", 24.0, 1.0}, {"2", 26.0, 1.0}, {"3", 40.0, 10.0}})
    {
        auto take = takeOf(cue, 0.0310);
        take.row.own.driftPpm = ppm;
        take.row.own.driftPpmSd = sd;
        for (int i = 0; i < 20; ++i) take.hits.push_back({3.0 * i, 0.0303 + 25e-6 * 3.0 * i});
        takes.push_back(take);
    }
    const auto record = pooled(takes);
    REQUIRE(record.machines.size() == 1);
    // Weights 1, 1, 0.01: by hand, (24 + 26 + 0.4) / 2.01.
    CHECK(record.machines[0].ppm == Approx(25.0746).margin(1e-3));
    CHECK(record.machines[0].matters); // 1.5 ms over a minute
    CHECK(ears(record) == 3);
    CHECK(record.setups.size() == 1);
    CHECK_FALSE(record.rows[0].fromPool);
    CHECK(contains(record.rows[0].wantsEar[0], "25.1 ppm"));
}

TEST_CASE("clocks that differ are told also where every take drifts too far to be sure of a lag")
{
    auto take = takeOf("1", 0.0310, 0.15);
    take.seconds = 180.0;
    take.row.own.hitsUsed = 96;
    take.row.own.driftPpm = 24.9;
    take.row.own.driftPpmSd = 0.1;
    auto record = pooled({take, take});
    REQUIRE(record.machines.size() == 1);
    CHECK(record.machines[0].matters);
    CHECK(record.machines[0].takes == 2);
    take.row.own.driftPpmSd = 12.0; // could be chance
    CHECK(pooled({take, take}).machines.empty());
}

TEST_CASE(
    "the plan's word holds against the verdict, and then nobody needs to listen; the tape is asked where there is one")
{
    auto left = takeOf("1", 0.0310), unsure = takeOf("2", 0.0310, 0.5), alone = takeOf("3", 0.0310, 0.5);
    left.row.wished = Decision::leave;
    left.by = "Mo";
    unsure.row.wished = Decision::align;
    unsure.row.lean = -0.002;
    alone.taped = 5.0;
    const auto record = pooled({left, unsure, alone});
    CHECK(record.rows[0].decision == Decision::leave);
    CHECK(record.rows[0].decidedBy == "Mo");
    CHECK(record.rows[0].decidedOn == "2026-03-01T20:15:00Z");
    CHECK(record.rows[1].decision == Decision::align);
    CHECK(record.rows[1].applied().lag == Approx(0.029));
    CHECK(record.rows[2].decision == Decision::leave);
    CHECK(ears(record) == 1);
    REQUIRE(record.rows[2].tape);
    CHECK_FALSE(record.rows[2].tape->agrees); // 5 m take 14.6 ms
    CHECK(record.rows[2].wantsEar.size() == 2);
}
