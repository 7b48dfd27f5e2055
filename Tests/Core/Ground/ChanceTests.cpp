#include "Core/Ground/Chance.h"

#include "Support/Catch.h"
#include "Support/Python.h"

#include <array>
#include <cmath>
#include <sstream>

using namespace tarry;

TEST_CASE("binomial: the upper tail for 16 tosses, against a table")
{
    // Cumulative binomial table, n = 16, p = 0.5: P(X >= k) to four decimals, as in any textbook of statistics; each
    // is the sum of C(16, i) from i = k, over 65536.
    constexpr std::array<double, 17> table{1.0,    1.0,    0.9997, 0.9979, 0.9894, 0.9616, 0.8949, 0.7728, 0.5982,
                                           0.4018, 0.2272, 0.1051, 0.0384, 0.0106, 0.0021, 0.0003, 0.0000};
    for (std::size_t k = 0; k < table.size(); ++k)
    {
        const double p = binomialUpperTail(static_cast<int>(k), 16);
        INFO(k << " of 16: " << p << ", table " << table[k] << ", limit 0.00005");
        CHECK(std::abs(p - table[k]) <= 0.00005);
    }
    CHECK(binomialUpperTail(12, 16) == 2517.0 / 65536.0); // 1820 + 560 + 120 + 16 + 1
    CHECK(binomialUpperTail(17, 16) == 0.0);
    CHECK(binomialUpperTail(-1, 16) == 1.0);
    CHECK(binomialUpperTail(0, 0) == 1.0);
}

TEST_CASE("binomial and sign test: as scipy.stats has them", "[outside]")
{
    TARRY_NEED_PYTHON(python, "scipy");
    const auto answer = tarry::test::runPython(python, R"(
from scipy.stats import binomtest
for n in (1, 2, 5, 10, 16, 25, 64, 333, 1000, 4096):
    for k in sorted({0, 1, n // 4, n // 2, (n + 1) // 2, 3 * n // 4, n - 1, n}):
        one = binomtest(k, n, 0.5, alternative='greater').pvalue
        two = binomtest(k, n, 0.5, alternative='two-sided').pvalue
        print(n, k, repr(float(one)), repr(float(two)))
)");
    INFO(answer.errors);
    REQUIRE(answer.status == 0);
    std::istringstream lines(answer.output);
    int n = 0, k = 0, count = 0;
    double one = 0.0, two = 0.0;
    while (lines >> n >> k >> one >> two)
    {
        ++count;
        INFO(k << " of " << n << ": " << binomialUpperTail(k, n) << ", scipy " << one << "; two-sided "
               << signTest(k, n - k) << ", scipy " << two << "; limit 1e-9 of the figure");
        CHECK(binomialUpperTail(k, n) == Approx(one).epsilon(1.0e-9).margin(1.0e-300));
        CHECK(signTest(k, n - k) == Approx(two).epsilon(1.0e-9).margin(1.0e-300));
    }
    CHECK(count > 50);
}

TEST_CASE("exact interval: its ends are where the tails hold 2.5 %, and mirror each other")
{
    CHECK(exactInterval(0, 0).low == 0.0);
    CHECK(exactInterval(0, 0).high == 1.0);
    CHECK(exactInterval(0, 10).low == 0.0);
    CHECK(exactInterval(0, 10).high == Approx(1.0 - std::pow(0.025, 0.1)).epsilon(1.0e-12)); // (1 - p)^10 = 2.5 %
    CHECK(exactInterval(10, 10).high == 1.0);
    for (const int k : {1, 4, 9, 16, 19})
    {
        const auto share = exactInterval(k, 20), mirrored = exactInterval(20 - k, 20);
        CHECK(binomialUpperTail(k, 20, share.low) == Approx(0.025).epsilon(1.0e-9));
        CHECK(1.0 - binomialUpperTail(k + 1, 20, share.high) == Approx(0.025).epsilon(1.0e-9));
        CHECK(share.low == Approx(1.0 - mirrored.high).epsilon(1.0e-12));
    }
}

TEST_CASE("exact interval: as scipy.stats has it", "[outside]")
{
    TARRY_NEED_PYTHON(python, "scipy");
    const auto answer = tarry::test::runPython(python, R"(
from scipy.stats import binomtest
for n in (1, 2, 5, 16, 64, 333, 2000):
    for k in sorted({0, 1, n // 3, n // 2, n - 1, n}):
        ends = binomtest(k, n).proportion_ci(0.95, method='exact')
        print(n, k, repr(float(ends.low)), repr(float(ends.high)))
)");
    INFO(answer.errors);
    REQUIRE(answer.status == 0);
    std::istringstream lines(answer.output);
    int n = 0, k = 0, count = 0;
    double low = 0.0, high = 0.0;
    while (lines >> n >> k >> low >> high)
    {
        ++count;
        const auto share = exactInterval(k, n);
        INFO(k << " of " << n << ": " << share.low << " to " << share.high << ", scipy " << low << " to " << high
               << "; limit 1e-9");
        CHECK(std::abs(share.low - low) <= 1.0e-9);
        CHECK(std::abs(share.high - high) <= 1.0e-9);
    }
    CHECK(count > 30);
}
