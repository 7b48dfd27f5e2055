#pragma once
#include "Core/Controls/SettingTable.h"

#include <juce_audio_processors/juce_audio_processors.h>

#include <array>
#include <atomic>
#include <memory>
#include <string_view>

namespace tarry
{
/// The host's parameters, made from the table of settings: a new line there is a new parameter here.
/// Plain switches and stepped numbers only: JUCE before 7.0.8 publishes choices wrongly to LV2 (JUCE issue 1272).
struct Parameters
{
    /// Makes the parameters; the processor owns them from then on.
    explicit Parameters(juce::AudioProcessor& processor);

    /// By the setting's id, or by its member of Controls: it must be a parameter.
    [[nodiscard]] juce::RangedAudioParameter& operator[](std::string_view id) const;
    [[nodiscard]] juce::RangedAudioParameter& operator[](Setting::Member member) const;

    // Some of them by name.
    juce::AudioParameterBool* bypass;
    juce::AudioParameterBool* aligned;
    juce::AudioParameterBool* measure; ///< follows the phase
    juce::AudioParameterBool* freezeWhenSettled;
    juce::AudioParameterFloat* lean;
    juce::AudioParameterBool* wholeSamples;
    juce::AudioParameterBool* eachSide;
    juce::AudioParameterBool* blend;
    juce::AudioParameterFloat* blendRoom;
    juce::AudioParameterFloat* reach;
    juce::AudioParameterBool* clap;
    juce::AudioParameterFloat* roomChannel;

    /// The values now, in SI. Any thread, also [audio].
    [[nodiscard]] Controls controls() const noexcept;

    /// An offline render that was still measuring: the measure parameter's text says so. True when the text is another
    /// one than before.
    bool sayRendered(bool unsettled, bool somethingHeld);

private:
    struct Entry
    {
        const Setting* setting = nullptr;
        juce::RangedAudioParameter* parameter = nullptr;
    };
    static constexpr std::size_t most = 32;
    std::shared_ptr<std::atomic<const char*>> rendered = std::make_shared<std::atomic<const char*>>(nullptr);
    std::array<Entry, most> entries{}; // as many as the table has, then empty ones
};

/// A value in the setting's own unit, as the host is to hear of it: one gesture. Nothing where it is set already.
void setNotifying(juce::RangedAudioParameter& parameter, double value);
} // namespace tarry
