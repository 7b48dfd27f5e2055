#include "Core/Ground/Statistics.h"

#include "Support/Catch.h"

#include <random>

using namespace tarry;

TEST_CASE("quantiles: ends, middle, between, any order", "[statistics]")
{
    CHECK(quantile({}, 0.5) == 0.0);
    CHECK(quantile({3.0}, 0.9) == 3.0);
    const std::vector<double> x{5.0, 1.0, 4.0, 2.0, 3.0};
    CHECK(quantile(x, 0.0) == 1.0);
    CHECK(quantile(x, 0.5) == 3.0);
    CHECK(quantile(x, 1.0) == 5.0);
    CHECK(quantile(x, 0.125) == Approx(1.5));
    CHECK(quantile({1.0, 2.0}, 0.5) == Approx(1.5));
}

TEST_CASE("the robust deviation is that of normal values, and outliers do not move it", "[statistics]")
{
    std::mt19937 engine(1);
    std::normal_distribution<double> value(7.0, 2.0);
    std::vector<double> x(20001);
    for (double& v : x) v = value(engine);
    INFO("seed 1: " << robustDeviation(x));
    CHECK(robustDeviation(x) == Approx(2.0).epsilon(0.03)); // its own deviation is 2 * 1.17 / sqrt(2 * 20001), 0.6 %
    for (std::size_t i = 0; i < x.size() / 10; ++i) x[i] = 1e6;
    CHECK(robustDeviation(x) < 2.5);
    CHECK(robustDeviation({}) == 0.0);
    CHECK(robustDeviation({4.0}) == 0.0);
}
