#pragma once
#include "Editor/EditorTarget.h"
#include "Plugin/Presets.h"

namespace tarry
{
class Processor;

/// The editor's other end in the plugin: parameters through their gestures, acts through the engine. [screen]
class ProcessorLink final : public EditorTarget, private PresetTarget, private RecallTarget, private TrialTarget
{
public:
    /// The processor outlives the link.
    explicit ProcessorLink(Processor& processor) : plugin(processor) {}

    EditorValues values() override;
    Levels takeLevels() override;
    [[nodiscard]] unsigned reportNumber() const override;
    [[nodiscard]] Report report() const override;

    void begin(Control) override;
    void set(Control, double value) override;
    void end(Control) override;
    void setSetup(const Setup&) override;

    void measure() override;
    void freeze() override;
    void apply() override;
    void undo() override;
    void redo() override;
    void takeOffer() override;
    void dismissOffer() override;
    void setNames(const Names&) override;
    [[nodiscard]] juce::String roomChannelName(int channel) const override;
    void setLagByHand(double seconds, bool sameGesture) override;
    void nudge(double seconds) override;
    void nudgeSamples(int samples) override;
    void setPolarity(Polarity) override;

    [[nodiscard]] bool hasHost() const override;
    PresetTarget* presets() override { return this; }
    RecallTarget* recall() override { return this; }
    TrialTarget* trial() override { return this; }

    [[nodiscard]] juce::String screenSetting(const juce::String& key) const override;
    void setScreenSetting(const juce::String& key, const juce::String& value) override;

private:
    // PresetTarget
    [[nodiscard]] juce::StringArray names() const override;
    [[nodiscard]] juce::File folder() const override;
    juce::String load(int index) override;
    juce::String load(const juce::File&) override;
    juce::String save(const juce::File&) override;
    // RecallTarget
    [[nodiscard]] juce::String line() const override;
    juce::String apply(const juce::String& line) override;
    // TrialTarget
    [[nodiscard]] TrialValues state() const override;
    void start(bool preference) override;
    void stop() override;
    void hear(TrialSound) override;
    void answer(bool a) override;

    Processor& plugin;
    [[nodiscard]] bool isPresetChanged(const std::string& name);

    /// What was last advised, and on what.
    struct Advised
    {
        unsigned number = 0;
        Setup setup;
        Controls controls;
        std::string preset;
        std::vector<std::string> words;
        std::string tape;
    };
    Advised adviceFor;
    bool presetChanged = false;
    std::optional<Preset> chosenPreset; ///< the last one that was looked up
    juce::uint32 clippedUntil = 0;      ///< ms of juce::Time::getMillisecondCounter
};
} // namespace tarry
