#pragma once
#include "Core/Analysis.h"
#include "Rivals.h"
#include "scenes/Example.h"

#include <array>
#include <cmath>
#include <memory>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace tarry::bench
{
/// The methods, in the order of every table: Tarry first.
inline constexpr std::array<std::string_view, 4> methodNames{"tarry", "gcc-phat", "correlation", "first-break"};

/// What an example came to. Holds no tracks, so that thousands can be kept.
struct Outcome
{
    std::string family, tier, name;
    unsigned seed = 0;
    double sampleRate = 0.0;
    std::optional<double> lag; ///< s, the truth, of the spot side that Tarry measured from
    std::optional<Polarity> polarity;
    std::optional<double> louderLag, louderDb; ///< see Example
    std::optional<double> driftPpm;            ///< true; none where there is no drift
    std::array<Answer, methodNames.size()> answers;
    Report report;
    double seconds = 0.0;     ///< processor time that Tarry took over the tracks
    double length = 0.0;      ///< s, of the tracks
    double firstAnswer = 0.0; ///< s of stream from when the room hears the first own hit to a right lag; NaN: unknown

    /// Seconds by which method m is off; none where it gave no lag or none is true.
    [[nodiscard]] std::optional<double> error(std::size_t m) const
    {
        if (!lag || !answers[m].lag) return std::nullopt;
        return *answers[m].lag - *lag;
    }
    /// Within `tolerance` (s) of the truth. False where there is no true lag, whatever the method says.
    [[nodiscard]] bool within(std::size_t m, double tolerance) const
    {
        const auto off = error(m);
        return off && std::abs(*off) <= tolerance;
    }
};

/// Confidence speaks of this many seconds (lexicon).
inline constexpr double right = 0.0005;

[[nodiscard]] inline const char* word(Verdict verdict)
{
    return verdict == Verdict::align ? "align" : verdict == Verdict::leave ? "leave" : "unsure";
}
[[nodiscard]] inline const char* word(std::optional<Polarity> polarity) // empty where there is none
{
    return !polarity ? "" : *polarity == Polarity::normal ? "normal" : "inverted";
}

/// Takes in all of an example's hits.
[[nodiscard]] std::unique_ptr<Analysis> takeIn(const Example& example);
/// What a report comes to, beside the truth; the rivals' answers, times and length are left open.
[[nodiscard]] Outcome outcomeOf(const Example& example, Report report);

/// Runs Tarry over an example. firstAnswer: also finds out when it first had the right lag, which takes many times
/// longer.
[[nodiscard]] Outcome measure(const Example& example, bool firstAnswer);

/// The published methods' answers, in the order of methodNames, Tarry's left out.
using RivalAnswers = std::array<Answer, methodNames.size() - 1>;
[[nodiscard]] RivalAnswers measureRivals(const Example& example);
} // namespace tarry::bench
