#include "Plugin/Trial.h"

#include "Core/Ground/Chance.h"
#include "Core/Ground/Text.h"

#include <algorithm>
#include <cmath>

namespace tarry
{
namespace
{
std::string probabilityWords(double p)
{
    return p < 0.0001 ? "p < 0.0001" : "p = " + fixed(p, 4);
}

/// "3.8 times in 100", with as many digits as tell something.
std::string timesInHundred(double p)
{
    if (p < 0.001) return "less than once in 1000 times";
    return fixed(100.0 * p, p < 0.0995 ? 1 : 0) + " times in 100";
}
} // namespace

void Trial::start(bool preference, std::uint64_t seed, int presentations)
{
    total = std::clamp(presentations, 1, 1000);
    order = seed;
    asksPreference = preference;
    given = hits = 0;
    inProgress = true;
    std::mt19937_64 random(seed);
    tossed.resize(static_cast<std::size_t>(total));
    for (std::size_t i = 0; i < tossed.size(); ++i) tossed[i] = (random() >> 63U) != 0; // the standard fixes this bit
}

bool Trial::isAligned(TrialSound sound) const
{
    const bool toss = given < total && tossed[static_cast<std::size_t>(given)];
    if (asksPreference) return sound == TrialSound::b ? !toss : toss;
    return sound == TrialSound::a || (sound == TrialSound::x && toss);
}

void Trial::answer(bool a)
{
    if (!inProgress || given >= total) return;
    // A match is a right answer with X; for preference it is that of the aligned side.
    if (a == tossed[static_cast<std::size_t>(given)]) ++hits;
    if (++given == total) inProgress = false;
}

double Trial::probability() const
{
    return asksPreference ? signTest(hits, given - hits) : binomialUpperTail(hits, given);
}

std::string Trial::words() const
{
    const double p = probability();
    const auto score = std::to_string(hits), of = std::to_string(given);
    if (asksPreference)
        return "Aligned preferred " + score + " of " + of + " times: " +
               (p >= significance     ? "that shows no preference."
                : hits > given - hits ? "aligned is preferred here."
                                      : "as recorded is preferred here.");
    return score + " of " + of + " right: " +
           (p < significance ? "aligning makes a difference that you hear here."
                             : "that shows no difference, nor does it prove that there is none.");
}

std::string Trial::statistics() const
{
    const double p = probability();
    if (asksPreference)
        return "By chance alone a split this uneven comes " + timesInHundred(p) + " (" + probabilityWords(p) +
               ", two-sided sign test).";
    return "By guessing alone as many come " + timesInHundred(p) + " (" + probabilityWords(p) +
           ", one-sided binomial test).";
}

std::string Trial::shortForm() const
{
    return (asksPreference ? "aligned-preferred:" : "right:") + std::to_string(hits) + "/" + std::to_string(given) +
           ",p=" + fixed(probability(), 4);
}
} // namespace tarry
