#include "Core/Report/Drift.h"

#include "Support/Catch.h"
#include "Support/Signals.h"

#include <cmath>
#include <random>

using namespace tarry;

namespace
{
/// Hits every few seconds with lags that drift and scatter.
std::optional<Drift> drifting(double ppm, double scatter, int hits, double seconds, unsigned seed)
{
    std::mt19937 engine(seed);
    std::normal_distribution<double> away(0.0, 1.0);
    std::vector<double> times, lags;
    for (int i = 0; i < hits; ++i)
    {
        times.push_back(3.0 + seconds * i / (hits - 1));
        lags.push_back(0.031 + ppm * 1e-6 * times.back() + scatter * away(engine));
    }
    return drift(times, lags);
}
} // namespace

TEST_CASE("a trend without scatter is found to the last digit", "[drift]")
{
    for (const double ppm : {-50.0, -1.0, 0.0, 3.3, 100.0})
    {
        const auto found = drifting(ppm, 0.0, 10, 300.0, 1);
        REQUIRE(found);
        CHECK(found->ppm == Approx(ppm).margin(1e-6));
        CHECK(found->ppmSd == Approx(0.0).margin(1e-6));
    }
}

TEST_CASE("known drift is found within three standard deviations, and the deviation is honest", "[drift]")
{
    for (const double ppm : {0.0, 2.0, -20.0})
        for (const int hits : {12, 100})
        {
            constexpr int trials = 500;
            const double scatter = 20e-6;
            double sum = 0.0, squares = 0.0, said = 0.0;
            int outside = 0;
            for (unsigned seed = 1; seed <= trials; ++seed)
            {
                const auto found = drifting(ppm, scatter, hits, 120.0, seed);
                REQUIRE(found);
                sum += found->ppm - ppm;
                squares += (found->ppm - ppm) * (found->ppm - ppm);
                said += found->ppmSd / trials;
                outside += std::abs(found->ppm - ppm) > 3.0 * found->ppmSd ? 1 : 0;
            }
            const double seen = std::sqrt(squares / trials);
            INFO(ppm << " ppm, " << hits << " hits, seeds 1 to 500: deviation " << seen << " ppm, said " << said << ", "
                     << outside << " of 500 beyond three");
            // Student's t: beyond three deviations lie 1.3 % for 10 degrees of freedom, 0.3 % for 98.
            CHECK(outside <= (hits == 12 ? 17 : 8)); // expected 6.7 and 1.7, plus four deviations of the count
            CHECK(said == Approx(seen).epsilon(0.12));
            CHECK(std::abs(sum / trials) <= 4.0 * seen / std::sqrt(trials));
            // Textbook: the slope's deviation is that of the lags over sqrt(sum of (t - mean)^2), which is
            // T sqrt(n (n + 1) / (12 (n - 1))) for n even steps over T.
            const double n = hits;
            const double formula = scatter / (120.0 * std::sqrt(n * (n + 1.0) / (12.0 * (n - 1.0)))) * 1e6;
            CHECK(seen == Approx(formula).epsilon(0.12));
        }
}

TEST_CASE("too few hits, or too close together, have no drift", "[drift]")
{
    CHECK_FALSE(drift({}, {}));
    CHECK_FALSE(drifting(10.0, 1e-6, 5, 100.0, 1));
    CHECK(drifting(10.0, 1e-6, 6, 100.0, 1));
    CHECK_FALSE(drifting(10.0, 1e-6, 50, 9.9, 1));
    CHECK(drifting(10.0, 1e-6, 50, 10.1, 1));
}

TEST_CASE("a drift matters where it moves the lag by more than 0.5 ms and is more than chance", "[drift]")
{
    CHECK(driftThatMatters({2.0, 0.1}, 600.0).value_or(0.0) == Approx(0.0012));
    CHECK(driftThatMatters({-2.0, 0.1}, 600.0).value_or(0.0) == Approx(-0.0012));
    CHECK_FALSE(driftThatMatters({2.0, 0.1}, 200.0)); // 0.4 ms
    CHECK_FALSE(driftThatMatters({2.0, 0.7}, 600.0)); // below three deviations
    CHECK_FALSE(driftThatMatters({0.0, 0.0}, 1e6));
}
