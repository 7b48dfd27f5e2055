#pragma once
#include "Editor/EditorModel.h"

#include <juce_core/juce_core.h>

#include <optional>
#include <vector>

/// The words and numbers on the screen, apart from where they are drawn. Lags in seconds.
namespace tarry
{
/// The unit in which the user thinks of a lag.
enum class LagUnit
{
    ms,
    samples,
    metres,
    feet
};

inline constexpr int lagUnitCount = 4;

/// What a lag is converted with.
struct LagScale
{
    double sampleRate = 48000.0; ///< Hz
    double temperature = 20.0;   ///< degrees Celsius, for metres and feet
};

[[nodiscard]] juce::String unitName(LagUnit); ///< in full, as it is chosen and saved
[[nodiscard]] juce::String unitSign(LagUnit); ///< as it stands beside a number: ms, smp, m, ft

/// The number alone, with as many digits as the unit deserves: "31.08", "1492.03", "10.67", "35.00".
[[nodiscard]] juce::String lagNumber(double seconds, LagUnit, const LagScale&, int decimals = 2);

/// The smallest step by hand in a unit, in seconds: 0.01 ms, a sample, 0.01 m, 0.01 ft.
[[nodiscard]] double stepOf(LagUnit, const LagScale&);
/// That step in words: "0.01 ms", "1 smp".
[[nodiscard]] juce::String stepText(LagUnit);

/// The number and its unit.
[[nodiscard]] juce::String lagText(double seconds, LagUnit, const LagScale&);

/// Reads what was typed: a number, in `unit` unless it names another ("31.08", "35 ft", "10,7 m", "-3 ms",
/// "1492 samples"). None when it is no number.
[[nodiscard]] std::optional<double> readLag(const juce::String& typed, LagUnit unit, const LagScale&);

/// Fixed decimals, a true minus sign, and never "-0.0".
[[nodiscard]] juce::String plainNumber(double value, int decimals);
/// "+2.6 dB", with a true minus sign.
[[nodiscard]] juce::String signedDb(double db);

/// Who is heard first in the sum: "room leads by 8 ms". gap: s by which the spot comes after the room's arrival.
[[nodiscard]] juce::String gapWords(double gap);
/// The same for what is set now; where nothing was measured, the lean alone.
[[nodiscard]] juce::String leanWords(const EditorModel&);
/// What the sum gains and loses, the most important first; for the polarity that is set.
[[nodiscard]] std::vector<juce::String> sumWords(const BlendFigures&, Polarity);
/// Whether a measured lag is worth telling: below one chance in ten it would be a number without a meaning.
[[nodiscard]] bool isTold(const Report&);
/// The lag that the A/B can be against: measured beside one by hand, or offered.
[[nodiscard]] std::optional<Alignment> otherLag(const EditorModel&);
/// The lag was set by hand and is another one than the verdict speaks of.
[[nodiscard]] bool isAnotherLag(const EditorModel&);
/// Above the lag: what the spot does.
[[nodiscard]] juce::String waitWords(const EditorModel&);
[[nodiscard]] juce::String phaseName(Phase);
/// Beside the phase: "8 of 9 hits agree".
[[nodiscard]] juce::String hitWords(const EditorModel&);
[[nodiscard]] juce::String polarityName(Polarity);
/// Spot and room by their names, where they have any.
[[nodiscard]] juce::String nameWords(const EditorModel&);
/// Whether the delay can do the measured lag with the look-ahead that is set.
[[nodiscard]] bool canBeApplied(const EditorModel&);

/// The headline of the verdict, input faults first.
[[nodiscard]] juce::String verdictWords(const EditorModel&);
/// "lag 98 % sure"; nothing while nothing is measured.
[[nodiscard]] juce::String confidenceWords(const EditorModel&);
/// "98 %": never certainty, which no measurement can have.
[[nodiscard]] juce::String percent(double share);
/// Why: the report's reasons, or what to do about the input.
[[nodiscard]] juce::StringArray reasonWords(const EditorModel&);

/// Said once on the screen.
inline constexpr const char* monitorCaution =
    "Aligned hits add up to 6 dB: mind the monitors. Local noise rules apply.";
} // namespace tarry
