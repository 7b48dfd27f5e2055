#include "Plugin/Trial.h"

#include "Support/Catch.h"
#include "Support/Python.h"

#include <array>
#include <cmath>
#include <random>
#include <sstream>

using namespace tarry;

namespace
{
/// A mixer who hears: answers rightly with this probability.
Trial played(bool preference, std::uint64_t order, int rightOnes, int presentations = Trial::usualPresentations)
{
    Trial trial;
    trial.start(preference, order, presentations);
    for (int i = 0; i < presentations; ++i)
    {
        // With X: is X the aligned one, as A is? For preference: is A the aligned one?
        const bool truth = trial.isAligned(preference ? TrialSound::a : TrialSound::x);
        trial.answer(i < rightOnes ? truth : !truth);
    }
    return trial;
}
} // namespace

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
for n in (1, 2, 5, 10, 16, 25, 64, 333, 1000):
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

TEST_CASE("trial with X: right answers are counted, judged and put into words")
{
    const auto trial = played(false, 7, 12);
    CHECK(trial.finished());
    CHECK(trial.score() == 12);
    CHECK(trial.probability() == Approx(0.0384).margin(0.00005)); // the table above
    CHECK(trial.words() == "12 of 16 right. By guessing alone as many come 3.8 times in 100 (p = 0.0384, one-sided "
                           "binomial test). Aligning makes a difference that you hear here.");
    CHECK(trial.shortForm() == "right:12/16,p=0.0384");
    CHECK(played(false, 7, 11).words().find("shows no difference; nor does it prove") != std::string::npos);
    CHECK(played(false, 7, 16).words().find("less than once in 1000 times (p < 0.0001,") != std::string::npos);
    CHECK(played(false, 7, 0).probability() == 1.0); // always wrong is no proof of anything in a one-sided test
}

TEST_CASE("trial for preference: counts the aligned side wherever it lay, and looks both ways")
{
    const auto trial = played(true, 99, 13);
    CHECK(trial.score() == 13);
    CHECK(trial.probability() == Approx(0.0213).margin(0.00005)); // twice 0.0106 of the table, before its rounding
    CHECK(trial.words() == "Aligned preferred 13 of 16 times, as recorded 3. By chance alone a split this uneven comes "
                           "2.1 times in 100 (p = 0.0213, two-sided sign test). Aligned is preferred here.");
    CHECK(trial.shortForm() == "aligned-preferred:13/16,p=0.0213");
    CHECK(played(true, 99, 3).probability() == trial.probability());
    CHECK(played(true, 99, 3).words().find("As recorded is preferred here.") != std::string::npos);
    CHECK(played(true, 99, 8).probability() == 1.0);
    CHECK(played(true, 99, 8).words().find("no preference") != std::string::npos);
}

TEST_CASE("trial: A and B are what they are called with X, and change places for preference")
{
    Trial withX;
    withX.start(false, 5);
    Trial preference;
    preference.start(true, 5);
    int xAligned = 0, aAligned = 0;
    for (int i = 0; i < 16; ++i)
    {
        CHECK(withX.isAligned(TrialSound::a));
        CHECK_FALSE(withX.isAligned(TrialSound::b));
        CHECK(preference.isAligned(TrialSound::a) != preference.isAligned(TrialSound::b));
        xAligned += withX.isAligned(TrialSound::x) ? 1 : 0;
        aAligned += preference.isAligned(TrialSound::a) ? 1 : 0;
        withX.answer(true);
        preference.answer(true);
    }
    CHECK(withX.score() == xAligned); // always 'X is A' is right as often as X was aligned
    CHECK(preference.score() == aAligned);
}

TEST_CASE("trial: the order is fair, follows from its seed, and has no memory")
{
    const auto seed = std::random_device{}();
    INFO("seed " << seed);
    std::mt19937_64 random(seed);
    constexpr int trials = 2000, presentations = 16;
    int aligned = 0, repeats = 0;
    for (int t = 0; t < trials; ++t)
    {
        const auto order = random();
        Trial trial, again;
        trial.start(false, order, presentations);
        again.start(false, order, presentations);
        bool before = false;
        for (int i = 0; i < presentations; ++i)
        {
            const bool now = trial.isAligned(TrialSound::x);
            REQUIRE(now == again.isAligned(TrialSound::x));
            aligned += now ? 1 : 0;
            repeats += i > 0 && now == before ? 1 : 0;
            before = now;
            trial.answer(true);
            again.answer(false);
        }
    }
    // Half of them, within six standard deviations, sqrt(n) / 2: fails once in 500 million runs.
    const auto farFromHalf = [](int count, int n) { return std::abs(count - 0.5 * n) / (0.5 * std::sqrt(n)); };
    INFO("aligned " << farFromHalf(aligned, trials * presentations) << " and repeated "
                    << farFromHalf(repeats, trials * (presentations - 1)) << " standard deviations from half, limit 6");
    CHECK(farFromHalf(aligned, trials * presentations) < 6.0);
    CHECK(farFromHalf(repeats, trials * (presentations - 1)) < 6.0);
}

TEST_CASE("trial: nothing counts before its start, after its end, or once it is stopped")
{
    Trial trial;
    trial.answer(true);
    CHECK_FALSE(trial.finished());
    trial.start(false, 1, 3);
    trial.answer(true);
    trial.stop();
    trial.answer(true);
    CHECK(trial.answered() == 1);
    CHECK_FALSE(trial.finished());
    trial = played(false, 1, 3, 3);
    trial.answer(true);
    CHECK(trial.answered() == 3);
    trial.start(true, 2, 0);
    CHECK(trial.presentations() == 1);
    CHECK(trial.score() == 0);
}
