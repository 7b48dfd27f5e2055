#pragma once
#include "Editor/Look.h"
#include "Standalone/Desk.h"

#include <juce_audio_utils/juce_audio_utils.h>

namespace tarry::standalone
{
/// The sound device, and which of its inputs are spot and room.
class DevicePage final : public juce::Component, private juce::ChangeListener
{
public:
    /// The desk outlives it.
    explicit DevicePage(Desk& desk);
    ~DevicePage() override;

    void paint(juce::Graphics&) override;
    void resized() override;

private:
    void changeListenerCallback(juce::ChangeBroadcaster*) override { fillIn(); }
    void fillIn();
    void pick();

    Desk& desk;
    Look look{true};
    juce::AudioDeviceSelectorComponent selector;
    juce::Label spotLabel, roomLabel;
    juce::ComboBox spot, room;
};
} // namespace tarry::standalone
