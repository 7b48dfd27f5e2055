#include "Core/Decision/SecondOpinion.h"

#include "Core/Heard.h"
#include "Support/Catch.h"

#include <numeric>
#include <random>

using namespace tarry;
using namespace tarry::test;

namespace
{
Candidate drawn(std::mt19937& engine)
{
    std::uniform_real_distribution<double> figure(0.0, 1.0);
    Candidate candidate;
    for (double& x : candidate.figures) x = figure(engine);
    return candidate;
}

std::size_t indexOf(std::string_view name)
{
    const auto at = std::find(Candidate::names.begin(), Candidate::names.end(), name);
    REQUIRE(at != Candidate::names.end());
    return static_cast<std::size_t>(at - Candidate::names.begin());
}
} // namespace

TEST_CASE("probabilities of all candidates leave something for none of them", "[opinion]")
{
    CHECK(secondOpinion({}).empty());
    std::mt19937 engine(3);
    for (int trial = 0; trial < 200; ++trial)
    {
        std::vector<Candidate> candidates;
        for (int i = 0; i < 1 + trial % 12; ++i) candidates.push_back(drawn(engine));
        const std::vector<double> p = secondOpinion(candidates);
        REQUIRE(p.size() == candidates.size());
        for (double x : p) CHECK(x > 0.0);
        CHECK(std::accumulate(p.begin(), p.end(), 0.0) < 1.0);
    }
}

TEST_CASE("what speaks for a candidate never makes it less probable, what speaks against it never more", "[opinion]")
{
    const std::vector<std::size_t> against{indexOf("response_earlier"), indexOf("owned_earlier")};
    std::mt19937 engine(4);
    for (int trial = 0; trial < 200; ++trial)
    {
        std::vector<Candidate> candidates{drawn(engine), drawn(engine)};
        const double before = secondOpinion(candidates).front();
        for (std::size_t i = 0; i < Candidate::count; ++i)
        {
            INFO(Candidate::names[i] << ", trial " << trial << ", seed 4");
            std::vector<Candidate> more = candidates;
            more.front().figures[i] += 0.2;
            const double after = secondOpinion(more).front();
            if (std::find(against.begin(), against.end(), i) == against.end())
                CHECK(after >= before);
            else
                CHECK(after <= before);
        }
    }
}

TEST_CASE("a take's own lag is among the candidates, and the most probable", "[opinion]")
{
    for (unsigned seed = 1; seed <= 5; ++seed)
    {
        Strokes strokes;
        strokes.times = evenTimes(5, 0.4, 0.7);
        strokes.seed = seed;
        const double lag = 0.017 + 0.004 * seed;
        Take take = makeTake(48000.0, lag, strokes, 0.05, -70.0);
        addStrokes(take.room, 48000.0, strokes, lag + 0.0061, 0.06); // a louder reflection
        const Report report = heard(take);
        REQUIRE_FALSE(report.candidates.empty());
        const auto best = std::max_element(report.candidates.begin(), report.candidates.end(),
                                           [](const auto& a, const auto& b) { return a.probability < b.probability; });
        INFO("seed " << seed << ": " << best->lag * 1e3 << " ms at " << best->probability << ", true " << lag * 1e3);
        CHECK(std::abs(best->lag - lag) <= 0.0003);
        for (std::size_t i = 1; i < report.candidates.size(); ++i)
            CHECK(report.candidates[i - 1].lag < report.candidates[i].lag);
        for (const CandidateLag& candidate : report.candidates)
            for (double figure : candidate.figures)
            {
                CHECK(figure >= 0.0);
                CHECK(figure <= 1.0 + 1e-9);
            }
    }
}
