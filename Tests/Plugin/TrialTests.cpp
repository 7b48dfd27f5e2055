#include "Plugin/Trial.h"

#include "Support/Catch.h"

#include <cmath>
#include <random>

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

TEST_CASE("trial with X: right answers are counted, judged and put into words")
{
    const auto trial = played(false, 7, 12);
    CHECK(trial.finished());
    CHECK(trial.score() == 12);
    CHECK(trial.probability() == Approx(0.0384).margin(0.00005)); // the table above
    CHECK(trial.words() == "12 of 16 right: aligning makes a difference that you hear here.");
    CHECK(trial.statistics() ==
          "By guessing alone as many come 3.8 times in 100 (p = 0.0384, one-sided binomial test).");
    CHECK(trial.shortForm() == "right:12/16,p=0.0384");
    CHECK(played(false, 7, 11).words().find("shows no difference, nor does it prove") != std::string::npos);
    CHECK(played(false, 7, 16).statistics().find("less than once in 1000 times (p < 0.0001,") != std::string::npos);
    CHECK(played(false, 7, 0).probability() == 1.0); // always wrong is no proof of anything in a one-sided test
}

TEST_CASE("trial for preference: counts the aligned side wherever it lay, and looks both ways")
{
    const auto trial = played(true, 99, 13);
    CHECK(trial.score() == 13);
    CHECK(trial.probability() == Approx(0.0213).margin(0.00005)); // twice 0.0106 of the table, before its rounding
    CHECK(trial.words() == "Aligned preferred 13 of 16 times: aligned is preferred here.");
    CHECK(trial.statistics() ==
          "By chance alone a split this uneven comes 2.1 times in 100 (p = 0.0213, two-sided sign test).");
    CHECK(trial.shortForm() == "aligned-preferred:13/16,p=0.0213");
    CHECK(played(true, 99, 3).probability() == trial.probability());
    CHECK(played(true, 99, 3).words().find("as recorded is preferred here.") != std::string::npos);
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
