#include "Score.h"
#include "ScoreStatistics.h"

#include <algorithm>

namespace tarry::bench
{
namespace
{
constexpr double sure = 0.9; // issue 3: wrong with confidence >= 0.9

bool surelyWrong(const Outcome& outcome)
{
    return outcome.report.confidence >= sure && !outcome.within(0, right);
}

/// The references of grade B are not good to 0.5 ms.
bool preciseReference(const Outcome& outcome)
{
    return outcome.tier != "bass-drum" && !outcome.tier.ends_with("-b");
}

MethodScore scoreMethod(const std::vector<const Outcome*>& outcomes, std::size_t m)
{
    MethodScore score;
    std::vector<double> fine;
    for (const auto* outcome : outcomes)
    {
        score.answers += outcome->answers[m].lag.has_value();
        score.within100us += outcome->within(m, 0.0001);
        score.within500us += outcome->within(m, 0.0005);
        score.within1500us += outcome->within(m, 0.0015);
        if (outcome->within(m, 0.001)) fine.push_back(*outcome->error(m));
        const auto& polarity = outcome->answers[m].polarity;
        if (outcome->within(m, right) && outcome->polarity && polarity)
        {
            ++score.polarityKnown;
            score.polarityRight += *polarity == *outcome->polarity;
        }
    }
    score.rms = rootMeanSquare(fine);
    score.median = quantile(fine, 0.5);
    return score;
}

TierScore scoreTier(const std::vector<const Outcome*>& outcomes)
{
    TierScore score;
    score.family = outcomes.front()->family;
    score.tier = outcomes.front()->tier;
    score.scenes = static_cast<int>(outcomes.size());
    score.hasLag = outcomes.front()->lag.has_value();
    for (std::size_t m = 0; m < methodNames.size(); ++m) score.methods[m] = scoreMethod(outcomes, m);

    double seconds = 0.0, length = 0.0;
    std::vector<double> firstAnswers;
    for (const auto* outcome : outcomes)
    {
        const auto& report = outcome->report;
        score.align += report.verdict == Verdict::align;
        score.leave += report.verdict == Verdict::leave;
        score.unsure += report.verdict == Verdict::unsure;
        score.alignRight += report.verdict == Verdict::align && outcome->within(0, right);
        score.sure += report.confidence >= sure;
        score.louderKnown += outcome->louderLag.has_value() && report.lag;
        score.louderFound += outcome->louderLag && report.lag && std::abs(*report.lag - *outcome->louderLag) <= right;
        score.surelyWrong += surelyWrong(*outcome) && preciseReference(*outcome);
        score.confidence += report.confidence / score.scenes;
        seconds += outcome->seconds;
        length += outcome->length;
        if (!std::isnan(outcome->firstAnswer)) firstAnswers.push_back(outcome->firstAnswer);
    }
    score.seconds = seconds / length;
    score.firstAnswer = quantile(firstAnswers, 0.95);
    return score;
}
} // namespace

std::vector<TierScore> score(const std::vector<Outcome>& outcomes)
{
    std::vector<std::vector<const Outcome*>> tiers;
    for (const auto& outcome : outcomes)
    {
        const auto same = [&](const auto& tier) { return tier.front()->tier == outcome.tier; };
        const auto tier = std::find_if(tiers.begin(), tiers.end(), same);
        if (tier == tiers.end())
            tiers.push_back({&outcome});
        else
            tier->push_back(&outcome);
    }
    std::vector<TierScore> scores;
    scores.reserve(tiers.size());
    for (const auto& tier : tiers) scores.push_back(scoreTier(tier));
    return scores;
}

Calibration calibrate(const std::vector<Outcome>& outcomes, bool withoutLag, const std::string& family)
{
    Calibration result;
    for (const auto& outcome : outcomes)
    {
        if (!preciseReference(outcome) || (!outcome.lag && !withoutLag)) continue;
        if (!family.empty() && outcome.family != family) continue;
        const double confidence = outcome.report.confidence, truth = outcome.within(0, right) ? 1.0 : 0.0;
        auto& bin = result.bins[std::min<std::size_t>(9, static_cast<std::size_t>(confidence * 10.0))];
        ++bin.count;
        bin.said += confidence;
        bin.right += truth;
        ++result.count;
        result.surelyWrong += surelyWrong(outcome);
        result.brier += (confidence - truth) * (confidence - truth);
    }
    for (auto& bin : result.bins)
    {
        if (bin.count == 0) continue;
        result.expectedError += std::abs(bin.said - bin.right) / result.count;
        bin.said /= bin.count;
        bin.right /= bin.count;
    }
    if (result.count > 0) result.brier /= result.count;
    return result;
}
} // namespace tarry::bench
