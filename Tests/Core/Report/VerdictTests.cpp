#include "Core/Report/Verdict.h"

#include "Support/Catch.h"

#include <cctype>
#include <random>

using namespace tarry;

namespace
{
/// Eight hits that agree: nothing to object to.
Report good()
{
    Report report;
    report.hitsFound = 9;
    report.hitsUsed = report.hitsAgreeing = 8;
    report.lag = 0.031084;
    report.polarity = Polarity::normal;
    report.confidence = 0.97;
    return report;
}

Report judged(Report report)
{
    judge(report);
    return report;
}

std::string allReasons(const Report& report)
{
    std::string text;
    for (const std::string& reason : report.reasons) text.append(reason).append(" ");
    return text;
}

bool says(const Report& report, const std::string& words)
{
    return allReasons(report).find(words) != std::string::npos;
}
} // namespace

TEST_CASE("align: confident hits that agree, or one clear clap; one hit alone bears no witness for itself",
          "[judgement]")
{
    const Report eight = judged(good());
    CHECK(eight.verdict == Verdict::align);
    CHECK(says(eight, "8 of 8"));
    CHECK(says(eight, "31.08 ms"));

    Report one = good();
    one.hitsFound = one.hitsUsed = one.hitsAgreeing = 1;
    CHECK(judged(one).verdict == Verdict::unsure);
    CHECK(says(judged(one), "One hit alone, at 31.08 ms"));
    one.clap = true;
    CHECK(judged(one).verdict == Verdict::align);
    CHECK(says(judged(one), "31.08 ms"));
}

TEST_CASE("one confident hit of several is not enough, unless it is a clap", "[judgement]")
{
    Report report = good();
    report.hitsFound = 7;
    report.hitsUsed = report.hitsAgreeing = 1;
    CHECK(judged(report).verdict == Verdict::unsure);
    report.clap = true;
    CHECK(judged(report).verdict == Verdict::align);
}

TEST_CASE("leave: most of what the spot hears is somebody else's", "[judgement]")
{
    Report report = good();
    report.confidence = 0.4;
    report.hitsFound = 25;
    report.hitsUsed = 9;
    report.hitsAgreeing = 5;
    report.agreeingLoudness = 0.2;
    const Report section = judged(report);
    CHECK(section.verdict == Verdict::leave);
    CHECK(says(section, "several players"));
    CHECK(says(section, "25 hits"));
    report.agreeingLoudness = 0.8; // loud enough to go by, but not sure
    CHECK(judged(report).verdict == Verdict::unsure);
    report.agreeingLoudness = 0.2;
    report.hitsFound = report.hitsUsed = 5; // a few hits are no section
    CHECK(judged(report).verdict == Verdict::unsure);
}

TEST_CASE("leave: hits at two lags that cannot both be had; both are named", "[judgement]")
{
    Report report = good();
    report.hitsAgreeing = 3;
    report.secondCluster = 0.0402;
    report = judged(report);
    CHECK(report.verdict == Verdict::leave);
    CHECK(says(report, "31.08 ms"));
    CHECK(says(report, "40.20 ms"));
}

TEST_CASE("unsure: each cause has its own reason", "[judgement]")
{
    std::vector<Report> cases(6, good());
    cases[0].input = InputState::noRoom;
    cases[1].input = InputState::sameSignal;
    cases[2] = Report{}; // no hit
    cases[3].lag.reset();
    cases[3].polarity.reset();
    cases[3].hitsUsed = cases[3].hitsAgreeing = 0; // hits, but no arrival
    cases[4].hitsAgreeing = 2;                     // no agreement
    cases[5].confidence = 0.3;                     // agreement, but nothing stands clear
    std::vector<std::string> first;
    for (const Report& report : cases)
    {
        const Report result = judged(report);
        CHECK(result.verdict == Verdict::unsure);
        REQUIRE_FALSE(result.reasons.empty());
        first.push_back(result.reasons.front());
        INFO(first.back());
        CHECK(std::count(first.begin(), first.end(), first.back()) == 1);
    }
}

TEST_CASE("unsure: few hits ask for more; enough of them ask for what a mixer has who cannot ask for more",
          "[judgement]")
{
    const auto unsure = [](auto&& change)
    {
        Report report = good();
        change(report);
        return judged(report);
    };
    for (const int hits : {2, 3, 4, 8})
        for (const auto& report : {unsure(
                                       [=](Report& r)
                                       {
                                           r.hitsFound = r.hitsUsed = r.hitsAgreeing = hits;
                                           r.confidence = 0.3;
                                       }),
                                   unsure(
                                       [=](Report& r)
                                       {
                                           r.hitsFound = r.hitsUsed = hits;
                                           r.hitsAgreeing = 1;
                                       })})
        {
            INFO(hits << " hits: " << allReasons(report));
            CHECK(report.verdict == Verdict::unsure);
            CHECK(says(report, "play four hits alone") == (hits < 4));
            CHECK(says(report, "another room channel, or set the lag by the tape or by hand") == (hits >= 4));
        }
    const auto unheard = unsure([](Report& r) { r.hitsUnheard = r.hitsFound; });
    CHECK(says(unheard, "are spot and room swapped?"));
}

TEST_CASE("what is known besides is said: leak, drift, signs, late spot", "[judgement]")
{
    const std::size_t plain = judged(good()).reasons.size();
    const auto adds = [plain](auto&& change, const char* words)
    {
        Report report = good();
        change(report);
        report = judged(report);
        INFO(allReasons(report));
        CHECK(report.reasons.size() > plain);
        CHECK(says(report, words));
    };
    adds([](Report& r) { r.leakDb = -40.0; }, "\u221240 dB");
    adds([](Report& r) { r.driftPpm = 12.5, r.driftPpmSd = 0.5; }, "12.5 ppm");
    adds([](Report& r) { r.signsDisagree = true; }, "polarit");
    adds([](Report& r) { r.blend.lowSumNormalDb = 2.6, r.blend.lowSumInvertedDb = -5.0; }, "7.6 dB");
    adds([](Report& r) { r.hitsFound = 19, r.hitsUnheard = 11; }, "11 of 19 sounds in the spot never reach the room");
    adds([](Report& r) { r.hitsRepeated = 4; }, "very same samples");

    Report uncertain = good(); // a drift within its own uncertainty is none
    uncertain.driftPpm = 12.5;
    uncertain.driftPpmSd = 10.0;
    CHECK(judged(uncertain).reasons.size() == plain);
}

TEST_CASE("a spot that is later than the look-ahead allows is an answer with its cure, never an align", "[judgement]")
{
    Report report = good();
    report.lag = -0.0051;
    CHECK(judged(report).verdict == Verdict::align); // the look-ahead reaches
    report.lookAheadNeeded = 0.0051;
    report = judged(report);
    CHECK(report.verdict == Verdict::unsure);
    CHECK(says(report, "later than the room by 5.10 ms"));
    CHECK(says(report, "at least 6 ms"));
}

TEST_CASE("a drift is judged over the length of the cue", "[judgement]")
{
    Report report = good();
    report.driftPpm = 2.0;
    report.driftPpmSd = 0.1;
    judge(report, 60.0); // 0.12 ms
    CHECK_FALSE(says(report, "ppm"));
    judge(report, 600.0); // 1.2 ms
    CHECK(says(report, "ppm"));
}

TEST_CASE("never without a reason, never 'align' without trust, and judged again says the same", "[judgement]")
{
    std::mt19937 engine(7);
    const auto chance = [&engine](double p) { return std::uniform_real_distribution<double>(0.0, 1.0)(engine) < p; };
    const auto upTo = [&engine](int n) { return std::uniform_int_distribution<int>(0, n)(engine); };
    for (int trial = 0; trial < 5000; ++trial)
    {
        Report report;
        report.input = static_cast<InputState>(chance(0.8) ? 0 : upTo(2));
        report.hitsFound = upTo(9);
        report.hitsUsed = upTo(report.hitsFound);
        report.hitsAgreeing = upTo(report.hitsUsed);
        if (report.hitsFound > 0 && chance(0.9))
        {
            report.lag = 0.001 * (upTo(90) - 10);
            report.polarity = static_cast<Polarity>(upTo(1));
        }
        report.confidence = 0.01 * upTo(100);
        if (chance(0.3)) report.secondCluster = 0.001 * upTo(80);
        if (chance(0.3)) report.leakDb = -30.0;
        if (chance(0.3)) report.driftPpm = 0.1 * upTo(500);
        report.signsDisagree = report.polarity && chance(0.3);
        report = judged(report);
        INFO("trial " << trial << ", seed 7: " << allReasons(report));
        bool sentences = !report.reasons.empty();
        for (const std::string& reason : report.reasons)
            sentences = sentences && reason.size() > 10 && reason.back() == '.' &&
                        (std::isupper(static_cast<unsigned char>(reason.front())) != 0 ||
                         std::isdigit(static_cast<unsigned char>(reason.front())) != 0);
        if (!sentences) FAIL_CHECK("not sentences");
        if (report.verdict == Verdict::align &&
            (report.input != InputState::good || !report.lag || report.confidence < trusted || report.hitsUsed == 0))
            FAIL_CHECK("align without ground");
        const Report again = judged(report);
        if (again.reasons != report.reasons || again.verdict != report.verdict) FAIL_CHECK("not the same again");
    }
}
