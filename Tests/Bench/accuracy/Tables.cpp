#include "Tables.h"
#include "ScoreStatistics.h"
#include "scenes/Tier.h"

#include <algorithm>
#include <cstdarg>
#include <cstdio>

namespace tarry::bench
{
namespace
{
[[gnu::format(printf, 1, 2)]] std::string print(const char* format, ...)
{
    char line[512];
    std::va_list arguments;
    va_start(arguments, format);
    // NOLINTNEXTLINE(clang-analyzer-valist.Uninitialized): clang-tidy 14 does not see va_start
    std::vsnprintf(line, sizeof line, format, arguments);
    va_end(arguments);
    return line;
}

/// A share of `of`, empty where there is nothing to share.
std::string part(int count, int of)
{
    return of > 0 ? print("%.2f", shareOf(count, of)) : std::string();
}

std::string familyTable(const std::vector<TierScore>& scores, const std::string& family)
{
    auto text =
        print("\n### %s\n\n"
              "| tier | n | 0.5 ms | 0.1 | 1.5 | GCC-PHAT 0.5 | 0.1 | goal | polarity | align where right | sure | "
              "sure and wrong | align/leave/unsure | mean said | rms, median ms | load |\n"
              "| --- | --- | --- | --- | --- | --- | --- | --- | --- | --- | --- | --- | --- | --- | --- | --- |\n",
              family.c_str());
    for (const auto& tier : scores)
    {
        if (tier.family != family) continue;
        const auto& own = tier.methods[0];
        const auto& phat = tier.methods[1];
        const auto goal = std::string(goalOf(tier.tier));
        text += print("| %s | %d | ", tier.tier.c_str(), tier.scenes);
        if (tier.hasLag)
            text += print("%.2f | %.2f | %.2f | %s | %s | %s | %s | %s", shareOf(own.within500us, tier.scenes),
                          shareOf(own.within100us, tier.scenes), shareOf(own.within1500us, tier.scenes),
                          phat.answers > 0 ? part(phat.within500us, tier.scenes).c_str() : "",
                          phat.answers > 0 ? part(phat.within100us, tier.scenes).c_str() : "", goal.c_str(),
                          part(own.polarityRight, own.polarityKnown).c_str(),
                          part(tier.alignRight, own.within500us).c_str());
        else if (tier.louderKnown > 0)
            text +=
                print("(louder: %.2f) | | | | | %s | | ", shareOf(tier.louderFound, tier.louderKnown), goal.c_str());
        else
            text += print("no lag is right | | | | | %s | | ", goal.c_str());
        text += print(" | %.2f | %d | %d/%d/%d | %.2f | ", shareOf(tier.sure, tier.scenes), tier.surelyWrong,
                      tier.align, tier.leave, tier.unsure, tier.confidence);
        if (tier.hasLag) text += print("%.3f, %+.3f", 1e3 * own.rms, 1e3 * own.median);
        text += print(" | %.4f |\n", tier.seconds);
    }
    return text;
}

/// One line a family: what all its tiers come to.
std::string summaryLine(const std::vector<TierScore>& scores, const std::vector<Outcome>& outcomes,
                        const std::string& family)
{
    TierScore sum;
    int withLag = 0, alignWithout = 0;
    for (const auto& tier : scores)
    {
        if (!family.empty() && tier.family != family) continue;
        sum.scenes += tier.scenes;
        sum.surelyWrong += tier.surelyWrong;
        sum.sure += tier.sure;
        if (!tier.hasLag)
        {
            alignWithout += tier.align;
            continue;
        }
        withLag += tier.scenes;
        sum.alignRight += tier.alignRight;
        for (const std::size_t m : {0UL, 1UL})
        {
            sum.methods[m].within500us += tier.methods[m].within500us;
            sum.methods[m].within100us += tier.methods[m].within100us;
            sum.methods[m].polarityKnown += tier.methods[m].polarityKnown;
            sum.methods[m].polarityRight += tier.methods[m].polarityRight;
            sum.methods[m].answers += tier.methods[m].answers;
        }
    }
    const auto& own = sum.methods[0];
    const auto calibration = calibrate(outcomes, true, family);
    return print("| %s | %d | %s | %s | %s | %s | %s | %s | %d (%.1f %%) | %s | %.3f |\n",
                 family.empty() ? "all" : family.c_str(), sum.scenes, part(own.within500us, withLag).c_str(),
                 part(own.within100us, withLag).c_str(),
                 sum.methods[1].answers > 0 ? part(sum.methods[1].within500us, withLag).c_str() : "",
                 part(own.polarityRight, own.polarityKnown).c_str(), part(sum.alignRight, own.within500us).c_str(),
                 part(alignWithout, sum.scenes - withLag).c_str(), sum.surelyWrong,
                 100.0 * shareOf(sum.surelyWrong, sum.scenes), part(sum.sure, sum.scenes).c_str(),
                 calibration.expectedError);
}

std::string calibrationTable(const Calibration& result, const char* what)
{
    auto text = print("\nConfidence, %s: %d scenes, expected calibration error %.3f (goal <= 0.03), Brier score %.3f, "
                      "wrong with confidence >= 0.9: %d (%.2f %%, goal <= 0.5 %%)\n\n| said | n | mean said | right |\n"
                      "| --- | --- | --- | --- |\n",
                      what, result.count, result.expectedError, result.brier, result.surelyWrong,
                      100.0 * shareOf(result.surelyWrong, result.count));
    for (std::size_t i = 0; i < result.bins.size(); ++i)
    {
        const auto& bin = result.bins[i];
        const double from = 0.1 * static_cast<double>(i);
        if (bin.count > 0)
            text += print("| %.1f-%.1f | %d | %.3f | %.3f |\n", from, from + 0.1, bin.count, bin.said, bin.right);
    }
    return text;
}
} // namespace

std::string tables(const std::vector<TierScore>& scores, const std::vector<Outcome>& outcomes)
{
    std::vector<std::string> families;
    for (const auto& tier : scores)
        if (std::find(families.begin(), families.end(), tier.family) == families.end()) families.push_back(tier.family);

    std::string text =
        "Shares of scenes within so many ms of the truth. Sure: confidence >= 0.9; wrong: more than 0.5 ms "
        "off, or any lag where none is right. Load: processor time per time of sound.\n";
    for (const auto& family : families) text += familyTable(scores, family);
    text +=
        "\n### Families\n\n| family | n | 0.5 ms | 0.1 | GCC-PHAT 0.5 | polarity | align where right | align where no "
        "lag is right | sure and wrong | sure | calibration error |\n"
        "| --- | --- | --- | --- | --- | --- | --- | --- | --- | --- | --- |\n";
    for (const auto& family : families) text += summaryLine(scores, outcomes, family);
    text += summaryLine(scores, outcomes, {});
    text += calibrationTable(calibrate(outcomes, true), "all, grade B left out");
    return text;
}

std::string rivalsTable(const std::vector<TierScore>& scores)
{
    std::string text = "\nAll methods: within 0.1 / 0.5 ms, rms of those within 1 ms (ms), polarity right where within "
                       "0.5 ms.\n\n| tier |";
    for (const auto& name : methodNames) text += print(" %s |", std::string(name).c_str());
    text += "\n| --- |";
    for (std::size_t m = 0; m < methodNames.size(); ++m) text += " --- |";
    text += "\n";
    for (const auto& tier : scores)
    {
        if (!tier.hasLag) continue;
        text += print("| %s |", tier.tier.c_str());
        for (const auto& method : tier.methods)
        {
            text += print(" %.2f / %.2f, %.3f", shareOf(method.within100us, tier.scenes),
                          shareOf(method.within500us, tier.scenes), 1e3 * method.rms);
            text += method.polarityKnown > 0 ? print(", %.2f |", shareOf(method.polarityRight, method.polarityKnown))
                                             : std::string(" |");
        }
        text += "\n";
    }
    return text;
}

std::string driftLine(const std::vector<Outcome>& outcomes)
{
    std::vector<double> errors;
    int drifting = 0, covered = 0;
    for (const auto& outcome : outcomes)
    {
        if (!outcome.driftPpm) continue;
        ++drifting;
        if (!outcome.report.driftPpm) continue;
        errors.push_back(*outcome.report.driftPpm - *outcome.driftPpm);
        covered += std::abs(errors.back()) <= 2.0 * outcome.report.driftPpmSd;
    }
    if (drifting == 0) return "";
    return print("\nDrift: told in %zu of %d scenes that drift; rms error %.2f ppm, within two of its standard "
                 "deviations in %d\n",
                 errors.size(), drifting, rootMeanSquare(errors), covered);
}

std::string failures(const std::vector<Outcome>& outcomes, std::size_t most)
{
    std::vector<const Outcome*> failed;
    for (const auto& outcome : outcomes)
        if (outcome.lag && !outcome.within(0, right)) failed.push_back(&outcome);
    std::stable_sort(failed.begin(), failed.end(),
                     [](const auto* a, const auto* b) { return a->report.confidence > b->report.confidence; });
    auto text = print("\nFailures (more than 0.5 ms off), surest first: %zu\n", failed.size());
    for (std::size_t i = 0; i < std::min(most, failed.size()); ++i)
    {
        const auto& f = *failed[i];
        const auto off = f.error(0);
        text += print("  %-18s %-12s true %7.3f ms, %s ms off, confidence %.2f, %s, hits %d/%d/%d\n", f.tier.c_str(),
                      f.name.c_str(), 1e3 * *f.lag, off ? print("%+8.3f", 1e3 * *off).c_str() : "no answer,",
                      f.report.confidence, word(f.report.verdict), f.report.hitsFound, f.report.hitsUsed,
                      f.report.hitsAgreeing);
    }
    return text;
}
} // namespace tarry::bench
