#pragma once
#include "Editor/EditorTarget.h"

namespace tarry
{
class Processor;

/// The editor's other end in the plugin: parameters through their gestures, acts through the engine. [screen]
class ProcessorLink final : public EditorTarget
{
public:
    /// The processor outlives the link.
    explicit ProcessorLink(Processor& processor) : plugin(processor) {}

    EditorValues values() override;
    [[nodiscard]] unsigned reportNumber() const override;
    [[nodiscard]] Report report() const override;

    void begin(Control) override;
    void set(Control, double value) override;
    void end(Control) override;
    void setSetup(const Setup&) override;

    void listen() override;
    void freeze() override;
    void take() override;
    void undo() override;
    void setLagByHand(double seconds, bool sameGesture) override;
    void nudge(double seconds) override;
    void nudgeSamples(int samples) override;
    void setPolarity(Polarity) override;

    [[nodiscard]] juce::String screenSetting(const juce::String& key) const override;
    void setScreenSetting(const juce::String& key, const juce::String& value) override;

private:
    Processor& plugin;
    juce::uint32 clippedUntil = 0; ///< ms of juce::Time::getMillisecondCounter
};
} // namespace tarry
