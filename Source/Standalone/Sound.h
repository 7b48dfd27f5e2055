#pragma once
#include "Standalone/Player.h"

#include <juce_audio_devices/juce_audio_devices.h>

namespace tarry::standalone
{
/// The player's clock: a sound device, or where there is none a silent one, so that measuring, freezing and printing
/// work all the same.
class Sound final : private juce::AudioIODeviceCallback, private juce::ChangeListener
{
public:
    /// The player outlives it.
    explicit Sound(Player& player);
    ~Sound() override;

    /// Opens the device that was used last, else the machine's own; with `silent`, none. [screen]
    void start(const juce::XmlElement* saved, bool silent);

    [[nodiscard]] bool hasDevice() const { return devices.getCurrentAudioDevice() != nullptr; }
    [[nodiscard]] juce::String deviceName() const; ///< empty: none
    [[nodiscard]] juce::StringArray inputNames() const;
    [[nodiscard]] double sampleRate() const; ///< Hz, of the device or of the silent clock
    /// The rate of the silent clock; a device has its own. [screen]
    void setSilentRate(double hertz);

    [[nodiscard]] juce::AudioDeviceManager& manager() noexcept { return devices; }

    std::function<void()> onChange; ///< device or rate changed. [screen]

private:
    struct SilentClock;

    void audioDeviceIOCallbackWithContext(const float* const* inputs, int inputCount, float* const* outputs,
                                          int outputCount, int frames,
                                          const juce::AudioIODeviceCallbackContext& context) override;
    void audioDeviceAboutToStart(juce::AudioIODevice* device) override;
    void audioDeviceStopped() override {}
    void changeListenerCallback(juce::ChangeBroadcaster*) override { follow(); }
    void follow();

    Player& player;
    juce::AudioDeviceManager devices;
    double silentRate = 48000.0; // Hz
    std::unique_ptr<SilentClock> clock;
};
} // namespace tarry::standalone
