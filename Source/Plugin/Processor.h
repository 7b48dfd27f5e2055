#pragma once
#include "Plugin/Engine.h"
#include "Plugin/Parameters.h"
#include "Plugin/State.h"
#include "Plugin/TrialRun.h"

#include <juce_audio_processors/juce_audio_processors.h>

namespace tarry
{
/// The plugin as a host sees it. It only wires: buses and parameters to the engine, the engine to a worker thread, and
/// all of it to a saved state.
///
/// For the editor: read `engine()` (report, phase, what is held and heard) and act on it (measure, freeze, apply,
/// setByHand, nudge, undo); turn `parameters` through their attachments; poll `engine().changeNumber()` for news.
class Processor final : public juce::AudioProcessor,
                        private juce::AudioProcessorParameter::Listener,
                        private juce::AsyncUpdater
{
public:
    Processor();
    ~Processor() override;

    /// Makes the screen, of which the plugin knows nothing: set by whoever puts both together. None: JUCE's own.
    using EditorMaker = juce::AudioProcessorEditor* (*)(Processor&);
    EditorMaker editorMaker = nullptr;

    Parameters parameters{*this};

    [[nodiscard]] Engine& engine() noexcept { return machine; }
    [[nodiscard]] const Engine& engine() const noexcept { return machine; }

    /// Look-ahead, how the room arrives, temperature. A new look-ahead tells the host its latency; the sound pauses for
    /// a moment. [screen]
    void setSetup(const Setup& wanted);
    [[nodiscard]] Setup setup() const { return machine.setup(); }

    /// The blind trial, which outlives a closed editor. [screen]
    [[nodiscard]] TrialRun& trial() noexcept { return trialRun; }

    /// The editor's own settings, saved with the session. [screen]
    std::map<std::string, std::string> screen;

    // juce::AudioProcessor
    void prepareToPlay(double sampleRate, int maximumBlockSize) override;
    void releaseResources() override;
    void reset() override;
    bool isBusesLayoutSupported(const BusesLayout& layouts) const override;
    void processBlock(juce::AudioBuffer<float>& buffer, juce::MidiBuffer& midi) override;
    using juce::AudioProcessor::processBlock;
    /// LV2 has a port of its own for it, and calls processBlockBypassed: a parameter beside that would be dead.
    juce::AudioProcessorParameter* getBypassParameter() const override { return isLv2() ? nullptr : parameters.bypass; }
    void processBlockBypassed(juce::AudioBuffer<float>& buffer, juce::MidiBuffer& midi) override;
    using juce::AudioProcessor::processBlockBypassed;

    juce::AudioProcessorEditor* createEditor() override;
    bool hasEditor() const override { return true; }

    void getStateInformation(juce::MemoryBlock& blob) override;
    void setStateInformation(const void* data, int size) override;

    const juce::String getName() const override { return "Tarry"; }
    bool acceptsMidi() const override { return false; }
    bool producesMidi() const override { return false; }
    double getTailLengthSeconds() const override { return Engine::maxDelay; }
    // The host's list of presets: a new instance's settings, then the project's own.
    int getNumPrograms() override;
    int getCurrentProgram() override { return program.load(std::memory_order_relaxed); }
    void setCurrentProgram(int index) override;
    const juce::String getProgramName(int index) override;
    void changeProgramName(int, const juce::String&) override {}

private:
    struct Worker;

    [[nodiscard]] bool isLv2() const { return wrapperType == wrapperType_LV2; }
    void process(juce::AudioBuffer<float>& buffer, bool bypassed);
    void parameterValueChanged(int index, float value) override;
    void parameterGestureChanged(int, bool) override {}
    void handleAsyncUpdate() override;

    bool prepared = false;
    Engine machine;
    TrialRun trialRun{machine};
    std::unique_ptr<Worker> worker;
    std::atomic<int> program{0};
    std::atomic<bool> followingPhase{false}; // the measure parameter is being set to the phase, by nobody's wish
};
} // namespace tarry
