#include "Core/Decision/Candidates.h"

#include "Support/Catch.h"

#include <cmath>

using namespace tarry;

namespace
{
const LagGrid grid(48000.0, 0.0, 0.06);
const std::size_t points =
    static_cast<std::size_t>((grid.count - grid.noise + PairEvidence::stride - 1) / PairEvidence::stride);

std::size_t pointOf(double lag)
{
    return static_cast<std::size_t>((grid.index(lag) - grid.noise) / PairEvidence::stride);
}

std::vector<double> heights(std::initializer_list<std::pair<double, double>> peaks)
{
    std::vector<double> x(points, 0.0);
    for (const auto& [lag, height] : peaks) x[pointOf(lag)] = height;
    return x;
}

std::vector<double> response(std::initializer_list<std::pair<double, double>> peaks, double floor = 0.001)
{
    std::vector<double> x(static_cast<std::size_t>(grid.count), floor);
    for (const auto& [lag, height] : peaks) x[static_cast<std::size_t>(std::lround(grid.index(lag)))] = height;
    return x;
}

/// A hit that shows its evidence at these lags, as loud as that in the spot.
PairEvidence hitAt(std::initializer_list<std::pair<double, float>> steps, double loudness)
{
    PairEvidence hit;
    hit.steps.assign(points + static_cast<std::size_t>(grid.noise / PairEvidence::stride), 0.0F);
    hit.answer = hit.steps;
    for (const auto& [lag, height] : steps)
        hit.steps[static_cast<std::size_t>(grid.noise / PairEvidence::stride) + pointOf(lag)] = height;
    hit.largestStep = 1.0F;
    hit.largestAnswer = 1.0F;
    hit.band[0].spotRise = loudness;
    return hit;
}

double figure(const Candidate& candidate, std::string_view name)
{
    const auto at = std::find(Candidate::names.begin(), Candidate::names.end(), name);
    REQUIRE(at != Candidate::names.end());
    return candidate.figures.at(static_cast<std::size_t>(at - Candidate::names.begin()));
}

const Candidate* near(const std::vector<Candidate>& all, double lag)
{
    for (const Candidate& one : all)
        if (std::abs(one.lag - lag) <= 0.0002) return &one;
    return nullptr;
}
} // namespace

TEST_CASE("every kind of evidence proposes, and proposals side by side are one", "[candidates]")
{
    const PairEvidence hit = hitAt({{0.020, 1.0F}}, 1.0);
    const auto all = nominate({&hit}, heights({{0.010, 5.0}}), heights({{0.020, 5.0}, {0.0302, 2.0}}),
                              response({{0.030, 1.0}, {-0.005, -0.4}}), grid);
    REQUIRE(all.size() == 4); // 0.0302 and 0.030 are one
    for (const double lag : {-0.005, 0.010, 0.020, 0.030}) CHECK(near(all, lag) != nullptr);
    for (std::size_t i = 1; i < all.size(); ++i) CHECK(all[i - 1].lag < all[i].lag);
}

TEST_CASE("what is earlier is held against a candidate, and only what is earlier", "[candidates]")
{
    const PairEvidence hit = hitAt({{0.020, 1.0F}}, 1.0);
    const auto all =
        nominate({&hit}, heights({{0.010, 6.0}, {0.020, 10.0}}), heights({}), response({{0.015, 1.0}}), grid);
    const Candidate *first = near(all, 0.010), *last = near(all, 0.020);
    REQUIRE(first != nullptr);
    REQUIRE(last != nullptr);
    CHECK(figure(*first, "owned_earlier") == 0.0);
    CHECK(figure(*first, "response_earlier") < 0.1);
    CHECK(figure(*last, "owned_earlier") == Approx(0.6));
    CHECK(figure(*last, "response_earlier") > 0.9);
    CHECK(figure(*last, "owned") == Approx(1.0));
}

TEST_CASE("a response that comes to no point counts for nothing, and the steps are asked instead", "[candidates]")
{
    const PairEvidence hit = hitAt({{0.020, 1.0F}}, 1.0);
    const auto steps = heights({{0.020, 30.0}});
    const auto sharp = nominate({&hit}, steps, steps, response({{0.020, 1.0}}, 0.001), grid);
    const auto blunt = nominate({&hit}, steps, steps, response({{0.020, 1.0}}, 0.5), grid);
    REQUIRE(near(sharp, 0.020) != nullptr);
    REQUIRE(near(blunt, 0.020) != nullptr);
    CHECK(figure(*near(sharp, 0.020), "response") == Approx(1.0));
    CHECK(figure(*near(sharp, 0.020), "stands_alone") == 0.0);
    CHECK(figure(*near(blunt, 0.020), "response") == 0.0);
    CHECK(figure(*near(blunt, 0.020), "stands_alone") == figure(*near(blunt, 0.020), "stands"));
    CHECK(figure(*near(blunt, 0.020), "stands") > 0.6);
}

TEST_CASE("explained is by loudness", "[candidates]")
{
    const PairEvidence ours = hitAt({{0.020, 1.0F}}, 3.0), theirs = hitAt({{0.040, 1.0F}}, 1.0);
    const auto steps = heights({{0.020, 5.0}, {0.040, 5.0}});
    const auto all = nominate({&ours, &theirs}, steps, steps, response({}), grid);
    REQUIRE(near(all, 0.020) != nullptr);
    REQUIRE(near(all, 0.040) != nullptr);
    CHECK(figure(*near(all, 0.020), "explained") == Approx(0.75));
    CHECK(figure(*near(all, 0.040), "explained") == Approx(0.25));
}

TEST_CASE("silence proposes nothing that would not be a number", "[candidates]")
{
    for (const Candidate& one : nominate({}, heights({}), heights({}), response({}, 0.0), grid))
        for (const double x : one.figures) CHECK(std::isfinite(x));
}
