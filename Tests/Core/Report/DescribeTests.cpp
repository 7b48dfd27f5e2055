#include "Core/Report/Describe.h"

#include "Core/Heard.h"
#include "Support/Catch.h"

using namespace tarry;

namespace
{
HitArrival arrivalAt(double lag, double weight = 1.0)
{
    HitArrival hit;
    hit.lag = hit.trendLag = lag;
    hit.weight = weight;
    return hit;
}

struct Told
{
    PairDecision decision;
    std::vector<KeptHit> hits;

    explicit Told(double lag, const std::vector<HitArrival>& arrivals)
    {
        decision.arrival.lag = lag;
        decision.arrival.hits = arrivals;
        decision.agreement.used = static_cast<int>(arrivals.size());
        for (std::size_t i = 0; i < arrivals.size(); ++i) hits.push_back({static_cast<double>(i), nullptr});
    }
    [[nodiscard]] Report report(double lookAhead = 0.0) const
    {
        Report told;
        describe(told, decision, hits, LagGrid(48000.0, lookAhead, 0.06), lookAhead);
        return told;
    }
};
} // namespace

TEST_CASE("a later spot is told by how much look-ahead it needs, where that is not set", "[describe]")
{
    const Told told(-0.0051, {arrivalAt(-0.0051)});
    CHECK(told.report().lookAheadNeeded == Approx(0.0051));
    CHECK(told.report(0.010).lookAheadNeeded == 0.0);
    CHECK(Told(-0.0003, {arrivalAt(-0.0003)}).report().lookAheadNeeded == 0.0); // as good as together
}

TEST_CASE("hits that gather at another lag are told, scattered or few ones are not", "[describe]")
{
    const auto here = arrivalAt(0.031);
    const Told gathered(0.031, {here, here, here, arrivalAt(0.0352), arrivalAt(0.0354)});
    REQUIRE(gathered.report().secondCluster);
    CHECK(*gathered.report().secondCluster == Approx(0.0353).epsilon(0.01));
    CHECK_FALSE(Told(0.031, {here, here, here, arrivalAt(0.0352), arrivalAt(0.044)}).report().secondCluster);
    const std::vector<HitArrival> few{here, here, here, here, here, here, arrivalAt(0.0352), arrivalAt(0.0354)};
    CHECK_FALSE(Told(0.031, few).report().secondCluster);
}

TEST_CASE("hits are told in order, those of no weight as not used", "[describe]")
{
    const Report report = Told(0.031, {arrivalAt(0.031), arrivalAt(0.040), arrivalAt(0.031, 0.0)}).report();
    REQUIRE(report.hits.size() == 3);
    CHECK(report.hits[0].agreeing);
    CHECK(report.hits[1].used);
    CHECK_FALSE(report.hits[1].agreeing);
    CHECK_FALSE(report.hits[2].used);
    CHECK(report.hits[2].time == 2.0);
}

TEST_CASE("without a lag a pair's line and the report hold none", "[describe]")
{
    PairDecision none;
    none.confidence = 0.1;
    CHECK_FALSE(describePair(1, 0, none).lag);
    CHECK(describePair(1, 0, none).spotSide == 1);
    Report report;
    describe(report, none, {}, LagGrid(48000.0, 0.0, 0.06), 0.0);
    CHECK_FALSE(report.lag);
    CHECK(report.hits.empty());
}
