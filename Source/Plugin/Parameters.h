#pragma once
#include "Plugin/Controls.h"

#include <juce_audio_processors/juce_audio_processors.h>

namespace tarry
{
/// Every parameter that a host sees, declared once: id, version hint, name, range, unit, text both ways.
/// Ids and ranges are part of saved sessions and of the LV2's interface: never change one that has landed, add another.
/// Plain switches and stepped numbers only: JUCE before 7.0.8 publishes choices wrongly to LV2 (JUCE issue 1272).
struct Parameters
{
    /// Makes the parameters; the processor owns them from then on.
    explicit Parameters(juce::AudioProcessor& processor);

    juce::AudioParameterBool* bypass;            ///< "bypass"
    juce::AudioParameterBool* aligned;           ///< "aligned": the A/B
    juce::AudioParameterBool* measure;           ///< "measure": on = measure (again), off = freeze; follows the phase
    juce::AudioParameterBool* freezeWhenSettled; ///< "freezeWhenSettled"
    juce::AudioParameterFloat* lean;             ///< "lean", ms, -20 to 30
    juce::AudioParameterBool* wholeSamples;      ///< "wholeSamples"
    juce::AudioParameterBool* eachSide;          ///< "eachSide"
    juce::AudioParameterBool* blend;             ///< "blend": never saved as on
    juce::AudioParameterFloat* blendRoom;        ///< "blendRoom", dB, -40 to 12
    juce::AudioParameterFloat* reach;            ///< "reach", ms, 5 to 200
    juce::AudioParameterBool* clap;              ///< "clap"
    juce::AudioParameterFloat* roomChannel;      ///< "roomChannel", stepped: 0 first arrival, 1 left, 2 right

    /// The values now, in SI. Any thread, also [audio].
    [[nodiscard]] Controls controls() const noexcept;
};
} // namespace tarry
