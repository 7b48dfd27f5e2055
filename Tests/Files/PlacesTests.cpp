#include "Files/Places.h"

#include "Support/Catch.h"

#include <random>

using namespace tarry;

namespace
{
using Lags = std::vector<std::optional<double>>;
using Numbers = std::vector<std::size_t>;

/// Hits of a take, every 2 s, whose lag goes from `before` to `after` at `when`, with an even error.
std::vector<TimedLag> hitsOf(int count, double before, double after, double when, double error, double ppm = 0.0)
{
    std::mt19937 engine(5);
    std::uniform_real_distribution<double> even(-error, error);
    std::vector<TimedLag> hits;
    for (int i = 0; i < count; ++i)
    {
        const double time = 1.0 + 2.0 * i;
        hits.push_back({time, (time < when ? before : after) + even(engine) + ppm * 1e-6 * time});
    }
    return hits;
}
} // namespace

TEST_CASE("places: a stand that stays, moves, comes back; takes without a sure lag stand where the one before stood")
{
    CHECK(placesOf(Lags{0.0310, 0.0311, 0.0309}) == Numbers{0, 0, 0});
    CHECK(placesOf(Lags{0.0310, 0.0311, 0.0325, 0.0324}) == Numbers{0, 0, 1, 1});
    CHECK(placesOf(Lags{0.0310, 0.0325, 0.0311}) == Numbers{0, 1, 0});
    CHECK(placesOf(Lags{0.0310, 0.0325, 0.0340}) == Numbers{0, 1, 2});
    CHECK(placesOf(Lags{std::nullopt, 0.0310, std::nullopt, 0.0325, std::nullopt}) == Numbers{0, 0, 0, 1, 1});
    CHECK(placesOf(Lags{std::nullopt, std::nullopt}) == Numbers{0, 0});
    // The limit: 0.5 ms, what a lag is held to.
    CHECK(placesOf(Lags{0.0310, 0.03149}) == Numbers{0, 0});
    CHECK(placesOf(Lags{0.0310, 0.03151}) == Numbers{0, 1});
}

TEST_CASE("a stand moved within a take is told, to the hit; a drift, a section and one stray hit are not")
{
    const auto step = stepWithin(hitsOf(20, 0.031, 0.0325, 22.0, 0.0001));
    REQUIRE(step);
    CHECK(step->time == 23.0);
    CHECK(step->before == Approx(0.031).margin(0.0001));
    CHECK(step->after == Approx(0.0325).margin(0.0001));
    CHECK(stepWithin(hitsOf(6, 0.031, 0.030, 6.0, 0.0)));

    CHECK_FALSE(stepWithin({}));
    CHECK_FALSE(stepWithin(hitsOf(5, 0.031, 0.0325, 6.0, 0.0)));
    CHECK_FALSE(stepWithin(hitsOf(20, 0.031, 0.031, 0.0, 0.0004)));
    CHECK_FALSE(stepWithin(hitsOf(20, 0.031, 0.0313, 22.0, 0.0001)));
    CHECK_FALSE(stepWithin(hitsOf(60, 0.031, 0.031, 0.0, 0.0001, 25.0))); // two clocks: 3 ms over two minutes
    auto section = hitsOf(20, 0.031, 0.031, 0.0, 0.0);
    for (std::size_t i = 0; i < section.size(); i += 2) section[i].lag = 0.036;
    CHECK_FALSE(stepWithin(section));
    auto stray = hitsOf(20, 0.031, 0.031, 0.0, 0.0001);
    stray[10].lag = 0.05;
    CHECK_FALSE(stepWithin(stray));
}
