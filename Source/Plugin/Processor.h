#pragma once
#include "Plugin/Engine.h"
#include "Plugin/MessageCall.h"
#include "Plugin/Parameters.h"
#include "Plugin/SharedWorkers.h"
#include "Plugin/State.h"
#include "Plugin/TextMap.h"
#include "Plugin/TrialRun.h"

#include <juce_audio_processors/juce_audio_processors.h>

#include <atomic>
#include <chrono>
#include <mutex>
#include <optional>
#include <string>
#include <thread>

namespace tarry
{
/// The plugin as a host sees it. It only wires: buses and parameters to the engine, the engine to the workers, and
/// all of it to a saved state.
///
/// For the editor: read `engine()` (report, phase, what is held, heard and offered) and act on it (measure, freeze,
/// apply, setByHand, nudge); turn `parameters` through their attachments; poll `engine().changeNumber()` for news.
///
/// A state may be saved and loaded from any thread, also while audio runs.
class Processor final : public juce::AudioProcessor, private juce::AudioProcessorParameter::Listener
{
public:
    Processor();
    ~Processor() override;

    /// Makes the screen, of which the plugin knows nothing: set by whoever puts both together. None: JUCE's own.
    using EditorMaker = juce::AudioProcessorEditor* (*)(Processor&);
    EditorMaker editorMaker = nullptr;
    /// False where nothing records around it, and spot and room come in together: in the standalone.
    bool hasHost = true;

    Parameters parameters{*this};

    [[nodiscard]] Engine& engine() noexcept { return machine; }
    [[nodiscard]] const Engine& engine() const noexcept { return machine; }

    /// Look-ahead, how the room arrives, temperature, tape, watch. A new look-ahead counts, and is told to the host,
    /// from the message loop's next turn on; the sound pauses for a moment. Any thread but audio.
    void setSetup(const Setup& wanted);
    [[nodiscard]] Setup setup() const { return machine.setup(); }

    /// The blind trial, which outlives a closed editor. [screen]
    [[nodiscard]] TrialRun& trial() noexcept { return trialRun; }

    /// Back before the last act, or forward again: what is held, and what else it changed. [screen]
    bool undo();
    bool redo();

    /// The editor's own settings, saved with the session. Any thread but audio.
    TextMap screen;

    /// The spot is called as the host's track, unless somebody has named it. Any thread but audio.
    [[nodiscard]] Names names() const;
    void setNames(const Names& wanted);
    /// The preset that was chosen last, changed since or not; empty: none. Any thread but audio.
    [[nodiscard]] std::string presetName() const;
    void setPresetName(const std::string& name);
    /// "left", "centre", "left surround": a channel of the room (from 0) by the host's layout.
    [[nodiscard]] std::string roomChannelName(int channel) const;

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
    int getCurrentProgram() override;
    void setCurrentProgram(int index) override;
    const juce::String getProgramName(int index) override;
    void changeProgramName(int, const juce::String&) override {}
    void updateTrackProperties(const TrackProperties& properties) override;

private:
    [[nodiscard]] bool isLv2() const { return wrapperType == wrapperType_LV2; }
    void process(juce::AudioBuffer<float>& buffer, bool bypassed);
    std::chrono::milliseconds work();
    void parameterValueChanged(int index, float value) override;
    void parameterGestureChanged(int, bool) override {}
    void tellHost();

    std::atomic<bool> prepared{false};
    MessageCall news{[this] { tellHost(); }};
    Engine machine;
    TrialRun trialRun{machine};
    mutable std::mutex keptLock; // guards the next three
    Names called;
    bool spotNamedByHand = false;
    std::string preset;
    /// The threads that just set the measure parameter to the phase, by nobody's wish: the message loop's, and one that
    /// loads a state, which may be another and at the same time.
    std::atomic<std::thread::id> following, restoring;
    std::atomic<bool> presetChosen{false}; // by the host, which is to be told what it has set
    juce::SharedResourcePointer<SharedWorkers> workers;
    std::optional<SharedWorkers::Task> worker; // while prepared; goes first
};
} // namespace tarry
