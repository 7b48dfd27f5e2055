#include "Files/TrialResult.h"

#include "Core/Ground/Chance.h"
#include "Files/Errors.h"
#include "Files/SheetWords.h"

#include <algorithm>
#include <charconv>
#include <map>
#include <nlohmann/json.hpp>
#include <set>
#include <tuple>

namespace tarry
{
namespace
{
/// SplitMix64.
class Numbers
{
public:
    explicit Numbers(std::uint64_t seed) : state(seed) {}

    std::uint64_t next()
    {
        std::uint64_t z = state += 0x9E3779B97F4A7C15U;
        z = (z ^ z >> 30U) * 0xBF58476D1CE4E5B9U;
        z = (z ^ z >> 27U) * 0x94D049BB133111EBU;
        return z ^ z >> 31U;
    }

private:
    std::uint64_t state;
};

std::uint64_t seedFrom(const std::string& digits, const std::filesystem::path& file)
{
    std::uint64_t seed = 0;
    const auto [end, error] = std::from_chars(digits.data(), digits.data() + digits.size(), seed);
    if (error != std::errc{} || end != digits.data() + digits.size())
        throw InputError(file, "names no order: give the file as the trial page saved it");
    return seed;
}

/// Answers of one listener.
struct Score
{
    int answers = 0, hits = 0;
};

TallyRecord tallyOf(bool preference, const std::string& name, const std::map<std::string, Score>& listeners)
{
    TallyRecord tally;
    tally.preference = preference;
    tally.name = name;
    for (const auto& [listener, score] : listeners)
    {
        ++tally.listeners;
        tally.answers += score.answers;
        tally.hits += score.hits;
        if (2 * score.hits > score.answers) ++tally.listenersFor;
        if (2 * score.hits < score.answers) ++tally.listenersAgainst;
    }
    const auto chance = [preference](int hits, int others)
    { return preference ? signTest(hits, others) : binomialUpperTail(hits, hits + others); };
    tally.p = chance(tally.hits, tally.answers - tally.hits);
    tally.listenersP = chance(tally.listenersFor, tally.listenersAgainst);
    const auto interval = exactInterval(tally.hits, tally.answers);
    tally.low = interval.low;
    tally.high = interval.high;
    return tally;
}

void refuseForeign(const std::vector<TrialResult>& results, const SessionRecord& record)
{
    std::set<std::string> names;
    for (const auto& row : record.rows) names.insert(rowName(row));
    for (const auto& result : results)
    {
        if (result.plan != record.plan)
            throw InputError(result.file,
                             "is of another plan (" + result.plan + "): give results of the trial of " + record.plan);
        if (result.trial != results.front().trial)
            throw InputError(result.file, "is of another trial page than " + results.front().file.string() +
                                              ": tally the results of one page at a time");
        for (const auto& cue : result.cues)
            if (!names.contains(cue))
                throw InputError(result.file,
                                 "asks about '" + cue +
                                     "', which the sheet does not have: give the folder whose trial it was");
    }
}

/// Each result once, in the order given.
std::vector<const TrialResult*> withoutCopies(const std::vector<TrialResult>& results)
{
    std::set<std::tuple<bool, std::string, std::string, std::string>> seen;
    std::vector<const TrialResult*> once;
    for (const auto& result : results)
        if (seen.emplace(result.preference, result.seed, result.began, result.listener).second) once.push_back(&result);
    return once;
}
} // namespace

std::vector<TrialStep> trialOrder(std::uint64_t seed, int cues, int times)
{
    Numbers numbers(seed);
    std::vector<TrialStep> order(static_cast<std::size_t>(cues) * static_cast<std::size_t>(times));
    for (std::size_t i = 0; i < order.size(); ++i) order[i].cue = static_cast<int>(i % static_cast<std::size_t>(cues));
    for (std::size_t i = order.size(); i-- > 1;)
        std::swap(order[i], order[static_cast<std::size_t>(numbers.next() % (i + 1))]);
    for (auto& step : order) step.toss = numbers.next() >> 63U != 0;
    return order;
}

TrialResult trialResultFrom(const std::string& text, const std::filesystem::path& file)
{
    const auto json = nlohmann::json::parse(text, nullptr, false);
    const std::string cure = ": give the file as the trial page saved it";
    try
    {
        if (const int schema = json.at("tarry_trial_result").get<int>(); schema > TrialResult::schema)
            throw InputError(file, "is of schema " + std::to_string(schema) + ", and this Tarry reads up to " +
                                       std::to_string(TrialResult::schema) + ": use the Tarry that made the trial");
        TrialResult result;
        result.file = file;
        result.trial = json.at("trial").get<std::string>();
        result.plan = json.at("plan").get<std::string>();
        result.listener = json.at("listener").get<std::string>();
        result.began = json.at("began").get<std::string>();
        result.seed = json.at("seed").get<std::string>();
        result.preference = json.at("question").get<std::string>() == "better";
        result.cues = json.at("cues").get<std::vector<std::string>>();
        for (const auto& each : json.at("answers"))
        {
            const auto& step =
                result.steps.emplace_back(TrialStep{each.at("cue").get<int>(), each.at("toss").get<bool>()});
            result.hits.push_back((each.at("answer").get<std::string>() == "a") == step.toss);
        }
        const auto cues = static_cast<int>(result.cues.size());
        const int times = json.at("times").get<int>();
        if (cues < 1 || times < 1 || times > 1000 ||
            result.steps.size() != result.cues.size() * static_cast<std::size_t>(times))
            throw InputError(file, "is not complete" + cure);
        if (result.steps != trialOrder(seedFrom(result.seed, file), cues, times))
            throw InputError(file, "is in another order than its number gives, so somebody has changed it" + cure);
        return result;
    }
    catch (const nlohmann::json::exception&)
    {
        throw InputError(file, "is no result of a blind trial" + cure);
    }
}

std::vector<TallyRecord> tally(const std::vector<TrialResult>& results, const SessionRecord& record)
{
    refuseForeign(results, record);
    std::vector<TallyRecord> tallies;
    for (const bool preference : {false, true})
    {
        std::map<std::string, Score> all;
        std::map<std::string, std::map<std::string, Score>> cues;
        int nameless = 0;
        for (const TrialResult* result : withoutCopies(results))
        {
            if (result->preference != preference) continue;
            // Two people may leave the name empty; a file of theirs is then a listener of its own.
            const std::string listener =
                result->listener.empty() ? std::to_string(++nameless) + "\n" : result->listener;
            for (std::size_t i = 0; i < result->steps.size(); ++i)
                for (Score* score :
                     {&all[listener], &cues[result->cues[static_cast<std::size_t>(result->steps[i].cue)]][listener]})
                {
                    ++score->answers;
                    if (result->hits[i]) ++score->hits;
                }
        }
        if (all.empty()) continue;
        tallies.push_back(tallyOf(preference, "", all));
        for (const auto& row : record.rows)
            if (const auto found = cues.find(rowName(row)); found != cues.end())
            {
                tallies.push_back(tallyOf(preference, found->first, found->second));
                cues.erase(found); // two rows of one name are one cue of the trial
            }
    }
    return tallies;
}
} // namespace tarry
