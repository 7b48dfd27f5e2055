#pragma once
#include "Editor/EditorModel.h"

#include <juce_core/juce_core.h>

#include <optional>

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

[[nodiscard]] juce::String unitName(LagUnit);

/// The number alone, with as many digits as the unit deserves: "31.08", "1492.03", "10.67", "35.00".
[[nodiscard]] juce::String lagNumber(double seconds, LagUnit, const LagScale&);

/// The number and its unit.
[[nodiscard]] juce::String lagText(double seconds, LagUnit, const LagScale&);

/// Reads what was typed: a number, in `unit` unless it names another ("31.08", "35 ft", "10,7 m", "-3 ms",
/// "1492 samples"). None when it is no number.
[[nodiscard]] std::optional<double> readLag(const juce::String& typed, LagUnit unit, const LagScale&);

/// "31.1 ms": one digit, for captions.
[[nodiscard]] juce::String shortMs(double seconds);
/// "+2.6 dB", with a true minus sign.
[[nodiscard]] juce::String signedDb(double db);

/// What lean does: "room leads by 8 ms".
[[nodiscard]] juce::String leanWords(double lean);
/// Above the lag: what the spot does.
[[nodiscard]] juce::String waitWords(const EditorModel&);
[[nodiscard]] juce::String phaseName(Phase);
/// Beside the phase: "8 of 9 hits agree".
[[nodiscard]] juce::String hitWords(const EditorModel&);
[[nodiscard]] juce::String polarityName(Polarity);

/// The headline of the verdict, input faults first.
[[nodiscard]] juce::String verdictWords(const EditorModel&);
/// "lag 98 % sure"; nothing while nothing is measured.
[[nodiscard]] juce::String confidenceWords(const EditorModel&);
/// Why: the report's reasons, or what to do about the input.
[[nodiscard]] juce::StringArray reasonWords(const EditorModel&);

inline constexpr const char* monitorCaution =
    "Aligned hits add up to 6 dB: mind the monitor level. Local rules on noise exposure apply.";
} // namespace tarry
