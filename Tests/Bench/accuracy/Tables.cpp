#include "Tables.h"
#include "Statistics.h"
#include "Tiers.h"

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

/// Tarry's failures against GCC-PHAT's (issue 3: at most a fifth).
std::string failuresAgainstPhat(const TierScore& tier)
{
    return print("%d : %d", tier.scenes - tier.methods[0].within500us, tier.scenes - tier.methods[1].within500us);
}

std::string tarryTable(const std::vector<TierScore>& scores, bool rivals)
{
    std::string text =
        "Tarry. Shares; gross = off by more than 1 ms or no lag; rms and median of the rest, ms; verdicts "
        "align/leave/unsure;\nwrong = more than 0.5 ms off with confidence >= 0.9; failures Tarry : "
        "GCC-PHAT; load = processor time per time of sound.\n\n"
        "| tier | n | 0.1 | 0.3 | 0.5 | 1 | 1.5 ms | goal | gross | rms | median | polarity | verdicts | conf | "
        "wrong | failures | first answer ms | load |\n"
        "| --- | --- | --- | --- | --- | --- | --- | --- | --- | --- | --- | --- | --- | --- | --- | --- | --- | --- "
        "|\n";
    for (const auto& tier : scores)
    {
        const auto& own = tier.methods[0];
        const auto goal = std::string(goalOf(tier.tier));
        const auto verdicts = print("%d/%d/%d", tier.align, tier.leave, tier.unsure);
        text += print("| %-18s | %3d | ", tier.tier.c_str(), tier.scenes);
        if (tier.hasLag)
            text += print("%.3f | %.3f | %.3f | %.3f | %.3f | %-22s | %.3f | %.3f | %+.3f | %d/%d",
                          shareOf(own.within100us, tier.scenes), shareOf(own.within300us, tier.scenes),
                          shareOf(own.within500us, tier.scenes), shareOf(own.within1ms, tier.scenes),
                          shareOf(own.within1500us, tier.scenes), goal.c_str(), shareOf(own.gross, tier.scenes),
                          1e3 * own.rms, 1e3 * own.median, own.polarityRight, own.polarityKnown);
        else
            text += print("not align: %.3f | | | | | %-22s | | | | ", shareOf(tier.scenes - tier.align, tier.scenes),
                          goal.c_str());
        text +=
            print(" | %-9s | %.2f | %d | %s | %.0f | %.3f |\n", verdicts.c_str(), tier.confidence, tier.surelyWrong,
                  rivals && tier.hasLag ? failuresAgainstPhat(tier).c_str() : "", 1e3 * tier.firstAnswer, tier.seconds);
    }
    return text;
}

std::string rivalsTable(const std::vector<TierScore>& scores)
{
    std::string text =
        "\nAll methods: within 0.1 / 0.5 / 1 ms, rms of those within 1 ms (ms), polarity right where within "
        "0.5 ms.\n\n| tier |";
    for (const auto& name : methodNames) text += print(" %s |", std::string(name).c_str());
    text += "\n| --- |";
    for (std::size_t m = 0; m < methodNames.size(); ++m) text += " --- |";
    text += "\n";
    for (const auto& tier : scores)
    {
        if (!tier.hasLag) continue;
        text += print("| %-18s |", tier.tier.c_str());
        for (const auto& method : tier.methods)
        {
            text += print(" %.2f / %.2f / %.2f, %.3f", shareOf(method.within100us, tier.scenes),
                          shareOf(method.within500us, tier.scenes), shareOf(method.within1ms, tier.scenes),
                          1e3 * method.rms);
            text += method.polarityKnown > 0 ? print(", %.2f |", shareOf(method.polarityRight, method.polarityKnown))
                                             : std::string(" |");
        }
        text += "\n";
    }
    return text;
}

std::string calibrationTable(const Calibration& result, const char* what)
{
    auto text = print("\nConfidence, %s: %d scenes, expected calibration error %.3f (goal <= 0.05), Brier score %.3f, "
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

std::string tables(const std::vector<TierScore>& scores, const Calibration& withLag, const Calibration& all)
{
    const auto answered = [](const TierScore& tier) { return tier.methods[1].answers > 0; };
    const bool rivals = std::any_of(scores.begin(), scores.end(), answered); // else they were not measured
    auto text = tarryTable(scores, rivals);
    if (rivals) text += rivalsTable(scores);
    text += calibrationTable(withLag, "tiers with a true lag (grade B left out)");
    if (all.count != withLag.count) text += calibrationTable(all, "the same and those where any lag is wrong");
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
