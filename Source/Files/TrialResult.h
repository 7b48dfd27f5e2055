#pragma once
#include "Files/SessionRecord.h"

#include <cstdint>
#include <filesystem>
#include <string>
#include <vector>

namespace tarry
{
/// One presentation of a blind trial.
struct TrialStep
{
    int cue = 0;       ///< which of the trial's
    bool toss = false; ///< X is A; or, for preference, A is aligned

    bool operator==(const TrialStep&) const = default;
};

/// The order that a seed gives: every cue `times` times, mixed, and a coin for each. The page makes the same
/// (SplitMix64: Steele, Lea, Flood, "Fast splittable pseudorandom number generators", 2014).
[[nodiscard]] std::vector<TrialStep> trialOrder(std::uint64_t seed, int cues, int times);

/// What the trial page hands back: a JSON object, {"tarry_trial_result": 1, "trial": id of the page, "plan", "version",
/// "listener", "question": "x" or "better", "seed": digits as text, "began", "ended": ISO 8601, "cues": [names],
/// "times", "answers": [{"cue": index, "toss", "answer": "a" or "b", "heard_s"}]}.
struct TrialResult
{
    static constexpr int schema = 1;

    std::filesystem::path file;
    std::string trial, plan, listener, began, seed;
    bool preference = false;
    std::vector<std::string> cues;
    std::vector<TrialStep> steps;
    std::vector<bool> hits; ///< by step: right; or aligned preferred
};

/// Throws InputError for what is no result, is of a later schema, is not complete, or whose order is not its seed's.
[[nodiscard]] TrialResult trialResultFrom(const std::string& text, const std::filesystem::path& file);

/// Pools the results of one trial page over the cues of this record: first over all cues, then cue by cue in the plan's
/// order; one block for each question that was asked. A result given twice counts once; results of one name are one
/// listener's. Throws InputError for a result of another plan or another page.
[[nodiscard]] std::vector<TallyRecord> tally(const std::vector<TrialResult>& results, const SessionRecord& record);
} // namespace tarry
