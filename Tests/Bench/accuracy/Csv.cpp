#include "Csv.h"

#include "Core/Decision/Candidates.h"
#include "Core/Decision/Confidence.h"
#include "scenes/Tier.h"

#include <fstream>
#include <stdexcept>

namespace tarry::bench
{
namespace
{
std::ofstream open(const std::filesystem::path& file)
{
    std::ofstream stream(file);
    if (!stream) throw std::runtime_error(file.string() + ": cannot be written");
    stream.precision(9);
    return stream;
}

struct Milliseconds
{
    std::optional<double> seconds;
};
std::ostream& operator<<(std::ostream& stream, Milliseconds ms)
{
    if (ms.seconds) stream << 1e3 * *ms.seconds;
    return stream;
}
/// `recorded` for tracks that no seed made.
std::string_view setWord(const Outcome& outcome)
{
    return outcome.seed == 0 ? "recorded" : word(setOf(outcome.seed));
}
} // namespace

/// What the confidence is judged by; zeros where no lag was found.
std::vector<std::pair<std::string, double>> features(const Report& report)
{
    std::vector<std::pair<std::string, double>> named;
    for (std::size_t i = 0; i < Features::count; ++i)
        named.emplace_back(Features::names[i], i < report.features.size() ? report.features[i] : 0.0);
    return named;
}

void writeOutcomes(const std::filesystem::path& file, const std::vector<Outcome>& outcomes)
{
    auto stream = open(file);
    stream << "family,tier,set,name,seed,sample_rate,length_s,true_lag_ms,true_polarity";
    for (const auto& name : methodNames)
        stream << ',' << name << "_lag_ms," << name << "_error_ms," << name << "_polarity";
    stream << ",confidence,verdict,hits_found,hits_used,hits_agreeing,spread_ms,clear_db,runner_up_lag_ms,"
              "runner_up_margin,second_cluster_ms,drift_ppm,low_sum_normal_db,low_sum_inverted_db,attack_gain_db,"
              "first_answer_ms,processor_s,reason\n";
    for (const auto& outcome : outcomes)
    {
        const auto& report = outcome.report;
        stream << outcome.family << ',' << outcome.tier << ',' << setWord(outcome) << ',' << outcome.name << ','
               << outcome.seed << ',' << outcome.sampleRate << ',' << outcome.length << ',' << Milliseconds{outcome.lag}
               << ',' << word(outcome.polarity);
        for (std::size_t m = 0; m < methodNames.size(); ++m)
            stream << ',' << Milliseconds{outcome.answers[m].lag} << ',' << Milliseconds{outcome.error(m)} << ','
                   << word(outcome.answers[m].polarity);
        stream << ',' << report.confidence << ',' << word(report.verdict) << ',' << report.hitsFound << ','
               << report.hitsUsed << ',' << report.hitsAgreeing << ',' << 1e3 * report.spread << ',' << report.clearDb
               << ',' << Milliseconds{report.runnerUpLag} << ',' << report.runnerUpMargin << ','
               << Milliseconds{report.secondCluster} << ',';
        if (report.driftPpm) stream << *report.driftPpm;
        stream << ',' << report.blend.lowSumNormalDb << ',' << report.blend.lowSumInvertedDb << ','
               << report.blend.attackGainDb << ',' << 1e3 * outcome.firstAnswer << ',' << outcome.seconds << ",\""
               << (report.reasons.empty() ? std::string() : report.reasons.front()) << "\"\n";
    }
    if (!stream.flush()) throw std::runtime_error(file.string() + ": cannot be written to the end");
}

void writeFeatures(const std::filesystem::path& file, const std::vector<Outcome>& outcomes)
{
    auto stream = open(file);
    stream << "family,tier,set,seed,name,true_lag_ms,true_polarity,louder_lag_ms,louder_db,lag_ms,polarity,right,"
              "gcc_phat_right,confidence,verdict,hits_found,hits_used,hits_agreeing";
    for (const auto& [name, value] : features({})) stream << ",f_" << name;
    stream << '\n';
    for (const auto& outcome : outcomes)
    {
        const auto& report = outcome.report;
        stream << outcome.family << ',' << outcome.tier << ',' << setWord(outcome) << ',' << outcome.seed << ",\""
               << outcome.name << "\"," << Milliseconds{outcome.lag} << ',' << word(outcome.polarity) << ','
               << Milliseconds{outcome.louderLag} << ',';
        if (outcome.louderDb) stream << *outcome.louderDb;
        stream << ',' << Milliseconds{report.lag} << ',' << word(report.polarity) << ',' << outcome.within(0, right)
               << ',' << outcome.within(1, right) << ',' << report.confidence << ',' << word(report.verdict) << ','
               << report.hitsFound << ',' << report.hitsUsed << ',' << report.hitsAgreeing;
        for (const auto& [name, value] : features(report)) stream << ',' << value;
        stream << '\n';
    }
    if (!stream.flush()) throw std::runtime_error(file.string() + ": cannot be written to the end");
}
void writeCandidates(const std::filesystem::path& file, const std::vector<Outcome>& outcomes)
{
    auto stream = open(file);
    stream << "family,tier,set,seed,name,true_lag_ms,lag_ms,candidate_ms,probability";
    for (const auto& name : Candidate::names) stream << ",c_" << name;
    stream << '\n';
    for (const auto& outcome : outcomes)
        for (const auto& candidate : outcome.report.candidates)
        {
            stream << outcome.family << ',' << outcome.tier << ',' << setWord(outcome) << ',' << outcome.seed << ",\""
                   << outcome.name << "\"," << Milliseconds{outcome.lag} << ',' << Milliseconds{outcome.report.lag}
                   << ',' << 1e3 * candidate.lag << ',' << candidate.probability;
            for (const double value : candidate.figures) stream << ',' << value;
            stream << '\n';
        }
    if (!stream.flush()) throw std::runtime_error(file.string() + ": cannot be written to the end");
}
} // namespace tarry::bench
