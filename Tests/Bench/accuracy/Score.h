#pragma once
#include "Outcome.h"

#include <array>
#include <string>
#include <vector>

namespace tarry::bench
{
/// One method in one tier.
struct MethodScore
{
    int answers = 0; ///< scenes in which it gave a lag
    int within100us = 0, within500us = 0, within1500us = 0;
    double rms = 0.0;      ///< s, of those within 1 ms; NaN where there are none
    double median = 0.0;   ///< s, of the same, with its sign: a bias shows here
    int polarityKnown = 0; ///< within 0.5 ms, and the true polarity is known, and the method gives one
    int polarityRight = 0; ///< of these
};

struct TierScore
{
    std::string family, tier;
    int scenes = 0;
    bool hasLag = true; ///< false: no lag is right, the verdict alone counts
    std::array<MethodScore, methodNames.size()> methods;
    int align = 0, leave = 0, unsure = 0;
    int alignRight = 0;                   ///< `align` where the lag is right
    int sure = 0;                         ///< confidence of 0.9 or more
    int surelyWrong = 0;                  ///< of these, those off by more than 0.5 ms; where no lag is right: any lag
    int louderKnown = 0, louderFound = 0; ///< sections: one player is louder, and theirs is the lag found
    double confidence = 0.0;              ///< mean
    double seconds = 0.0;                 ///< processor time for each second of sound
    double firstAnswer = 0.0;             ///< s, the 0.95 quantile; NaN where not known
};

/// Scores each tier, in the order in which it first occurs.
[[nodiscard]] std::vector<TierScore> score(const std::vector<Outcome>& outcomes);

/// How well confidence keeps its word.
struct Calibration
{
    struct Bin
    {
        int count = 0;
        double said = 0.0;  ///< mean confidence
        double right = 0.0; ///< share within 0.5 ms
    };
    std::array<Bin, 10> bins; ///< [0, 0.1) … [0.9, 1]
    int count = 0, surelyWrong = 0;
    double expectedError = 0.0; ///< |said - right| over the bins, weighted by their counts
    double brier = 0.0;         ///< mean of (confidence - right)²
};

/// Tiers with a reference that is good to 0.5 ms (not grade B). withoutLag: also those where no lag is right, any lag
/// counting as wrong. family: of this one alone; empty: all.
[[nodiscard]] Calibration calibrate(const std::vector<Outcome>& outcomes, bool withoutLag,
                                    const std::string& family = {});
} // namespace tarry::bench
