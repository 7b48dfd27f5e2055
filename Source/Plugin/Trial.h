#pragma once
#include <cstdint>
#include <random>
#include <string>
#include <vector>

namespace tarry
{
/// What is heard during a blind trial.
enum class TrialSound
{
    x,
    a,
    b
};

/// A blind trial as it stands: `answered` of `presentations` are done; the result is known only at the end.
struct TrialValues
{
    bool running = false, finished = false;
    bool matching = false;   ///< running, but the loudness is still being matched: nothing to answer yet
    int secondsLeft = 0;     ///< of the passage that has to be heard for that
    bool preference = false; ///< asks which is better, rather than which of the two X is
    int presentations = 16, answered = 0;
    TrialSound hearing = TrialSound::x;
    bool mayAnswer = false; ///< both sides have been heard in this presentation
    std::string toHear;     ///< what has to be heard before: "Hear as recorded too."; empty where one may answer
    std::string yes, no;    ///< what the two answers say: "The hidden one is aligned", "... as recorded"
    std::string result;     ///< one sentence, once finished
    std::string details;    ///< the statistics, what was compared, and the order's seed
    std::string obstacle;   ///< why it cannot start; empty: it can
    std::string note;       ///< why the last one ended by itself without a result; empty: it did not

    bool operator==(const TrialValues&) const = default;
};

/// A blind trial's questions and answers. Pure logic, no threads, no sound.
///
/// With X (ABX): A is aligned, B is as recorded, X is either, by a fair coin for each presentation; the score is judged
/// by the one-sided binomial test. For preference: A and B are aligned and as recorded in an order tossed for each
/// presentation; judged by the two-sided sign test.
class Trial
{
public:
    static constexpr int usualPresentations = 16;
    static constexpr double significance = 0.05; ///< common practice

    /// Begins anew. presentations: 1 to 1000. The same seed gives the same order.
    void start(bool preference, std::uint64_t seed, int presentations = usualPresentations);
    /// Ends without a result.
    void stop() { inProgress = false; }

    [[nodiscard]] bool running() const { return inProgress; }
    [[nodiscard]] bool finished() const { return !inProgress && total > 0 && given == total; }
    [[nodiscard]] bool preference() const { return asksPreference; }
    [[nodiscard]] int presentations() const { return total; }
    [[nodiscard]] int answered() const { return given; }
    [[nodiscard]] std::uint64_t seed() const { return order; }

    /// Whether this sound, in the present presentation, is the aligned one.
    [[nodiscard]] bool isAligned(TrialSound sound) const;
    /// X is A; or, for preference, A is better. Goes on to the next presentation; ignored when none is open.
    void answer(bool a);

    /// With X: answers that were right. For preference: how often aligned was preferred.
    [[nodiscard]] int score() const { return hits; }
    /// Of a finished trial: how likely a score like this is by chance alone.
    [[nodiscard]] double probability() const;
    /// Of a finished trial: the score and what it means, in one sentence.
    [[nodiscard]] std::string words() const;
    /// Of a finished trial: how likely that is by chance alone, and by which test.
    [[nodiscard]] std::string statistics() const;
    /// Of a finished trial, for the recall line: "right:12/16,p=0.0384" or "aligned-preferred:12/16,p=0.0768".
    [[nodiscard]] std::string shortForm() const;

private:
    std::vector<bool> tossed; // by presentation: X is A; or, for preference, A is aligned
    std::uint64_t order = 0;
    bool inProgress = false, asksPreference = false;
    int total = 0, given = 0, hits = 0;
};
} // namespace tarry
