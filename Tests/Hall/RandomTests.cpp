#include "Hall/Random.h"
#include "Support/Catch.h"

using tarry::hall::Random;

TEST_CASE("Random: a stream repeats, and streams and seeds differ", "[hall]")
{
    Random one(7, 1);
    Random again(7, 1);
    Random otherStream(7, 2);
    Random otherSeed(8, 1);
    const double first = one.uniform();
    CHECK(first == again.uniform());
    CHECK(first != otherStream.uniform());
    CHECK(first != otherSeed.uniform());
}

TEST_CASE("Random: moments of the distributions", "[hall]")
{
    // Normal: variance 1, fourth moment 3. Uniform: mean 1/2, variance 1/12. Limits: five standard errors.
    constexpr int count = 200000;
    Random random(11, 3);
    double mean = 0.0;
    double second = 0.0;
    double fourth = 0.0;
    double flat = 0.0;
    for (int i = 0; i < count; ++i)
    {
        const double x = random.gauss();
        mean += x / count;
        second += x * x / count;
        fourth += x * x * x * x / count;
        flat += random.uniform() / count;
    }
    INFO("seed 11, " << count << " figures");
    CHECK(std::abs(mean) < 5.0 * std::sqrt(1.0 / count));
    CHECK(std::abs(second - 1.0) < 5.0 * std::sqrt(2.0 / count));
    CHECK(std::abs(fourth - 3.0) < 5.0 * std::sqrt(96.0 / count));
    CHECK(std::abs(flat - 0.5) < 5.0 * std::sqrt(1.0 / 12.0 / count));
}
