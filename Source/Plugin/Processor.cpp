#include "Plugin/Processor.h"

#include "Plugin/Keeping.h"

namespace tarry
{
/// Measures while the host plays. When it renders offline, the engine does this part itself.
struct Processor::Worker final : juce::Thread
{
    explicit Worker(Processor& owner) : juce::Thread("Tarry measuring"), processor(owner) {}
    ~Worker() override { stopThread(-1); }

    void run() override
    {
        constexpr int pause = 10, longPause = 50; // ms; frozen there is nothing to do but to hear of a wish
        while (!threadShouldExit())
        {
            if (!processor.isNonRealtime()) processor.machine.work(processor.parameters.controls());
            wait(processor.machine.phase() == Phase::frozen ? longPause : pause);
        }
    }

    Processor& processor;
};

// The side-chain is enabled from the start: JUCE publishes a disabled one as optional to LV2, and then copies from a
// null pointer when it is not connected. Silence there means that no room is connected.
Processor::Processor()
    : juce::AudioProcessor(BusesProperties()
                               .withInput("Spot", juce::AudioChannelSet::stereo(), true)
                               .withInput("Room", juce::AudioChannelSet::stereo(), true)
                               .withOutput("Spot", juce::AudioChannelSet::stereo(), true)),
      worker(std::make_unique<Worker>(*this))
{
    machine.onChange = [this] { triggerAsyncUpdate(); };
    parameters.measure->addListener(this);
}

Processor::~Processor()
{
    worker.reset();
    cancelPendingUpdate();
    parameters.measure->removeListener(this);
}

bool Processor::isBusesLayoutSupported(const BusesLayout& layouts) const
{
    const auto fits = [](const juce::AudioChannelSet& set)
    { return set == juce::AudioChannelSet::mono() || set == juce::AudioChannelSet::stereo(); };
    if (layouts.inputBuses.size() > 2 || layouts.outputBuses.size() != 1) return false;
    const auto spot = layouts.getMainInputChannelSet();
    const auto room = layouts.getChannelSet(true, 1);
    return fits(spot) && layouts.getMainOutputChannelSet() == spot && (room.isDisabled() || fits(room));
}

void Processor::prepareToPlay(double sampleRate, int)
{
    Streams shape;
    shape.sampleRate = sampleRate;
    shape.spotChannels = getChannelCountOfBus(true, 0);
    shape.roomChannels = getBusCount(true) > 1 ? getChannelCountOfBus(true, 1) : 0;
    machine.prepare(shape, parameters.controls());
    prepared = true;
    setLatencySamples(machine.latencySamples());
    if (!worker->isThreadRunning()) worker->startThread();
}

void Processor::releaseResources()
{
    worker->stopThread(-1);
}

void Processor::reset()
{
    machine.reset();
}

void Processor::processBlock(juce::AudioBuffer<float>& buffer, juce::MidiBuffer&)
{
    process(buffer, !isLv2() && parameters.bypass->get());
}

void Processor::processBlockBypassed(juce::AudioBuffer<float>& buffer, juce::MidiBuffer&)
{
    process(buffer, true);
}

void Processor::process(juce::AudioBuffer<float>& buffer, bool bypassed)
{
    // No flushing of denormal numbers here: nothing in the path feeds back, and the command must compute the same.
    const auto& shape = machine.shape();
    if (!prepared || buffer.getNumChannels() < shape.spotChannels + shape.roomChannels) return;
    auto* const* channels = buffer.getArrayOfWritePointers();
    auto controls = parameters.controls();
    controls.bypassed = bypassed;
    machine.process(channels, channels + shape.spotChannels, buffer.getNumSamples(), controls, isNonRealtime());
}

// The host is told of another latency from the message loop: it may call from within a program or state call, with
// locks of its own held, and starts its streams again on hearing of it.
void Processor::setSetup(const Setup& wanted)
{
    if (machine.setSetup(wanted)) triggerAsyncUpdate();
}

// The measure parameter asks for measuring or freezing, and shows which of the two it is. [audio] too
void Processor::parameterValueChanged(int, float value)
{
    if (!followingPhase) machine.requestMeasuring(value >= 0.5F);
}

void Processor::handleAsyncUpdate()
{
    if (prepared) setLatencySamples(machine.latencySamples());
    const bool measuring = machine.phase() != Phase::frozen;
    if (parameters.measure->get() == measuring) return;
    followingPhase = true;
    parameters.measure->setValueNotifyingHost(measuring ? 1.0F : 0.0F);
    followingPhase = false;
}

int Processor::getNumPrograms()
{
    return 1 + static_cast<int>(ownPresets().size());
}

const juce::String Processor::getProgramName(int index)
{
    if (index <= 0 || index >= getNumPrograms()) return "Plain";
    return juce::String::fromUTF8(ownPresets()[static_cast<std::size_t>(index) - 1].name.c_str());
}

void Processor::setCurrentProgram(int index)
{
    if (index < 0 || index >= getNumPrograms()) return;
    program = index;
    applyPreset(*this, index == 0 ? plainPreset(*this) : ownPresets()[static_cast<std::size_t>(index) - 1]);
}

juce::AudioProcessorEditor* Processor::createEditor()
{
    if (editorMaker != nullptr) return editorMaker(*this);
    return new juce::GenericAudioProcessorEditor(*this);
}

void Processor::getStateInformation(juce::MemoryBlock& blob)
{
    State state;
    for (auto* parameter : getParameters())
        if (auto* ranged = dynamic_cast<juce::RangedAudioParameter*>(parameter))
            state.parameters[ranged->getParameterID().toStdString()] =
                static_cast<double>(ranged->convertFrom0to1(ranged->getValue()));
    state.setup = machine.setup();
    state.follow = machine.followState();
    state.undo = machine.undoState();
    state.preset = getProgramName(program).toStdString();
    state.trial = trialRun.lastShortForm;
    state.screen = screen;
    const auto text = writeState(state, machine.report());
    blob.replaceAll(text.data(), text.size());
}

void Processor::setStateInformation(const void* data, int size)
{
    if (data == nullptr || size <= 0) return;
    const auto state = readState({static_cast<const char*>(data), static_cast<std::size_t>(size)});
    if (!state) return; // not ours, or broken: everything stays as it is

    setSetup(state->setup);
    followingPhase = true;
    for (auto* parameter : getParameters())
    {
        auto* ranged = dynamic_cast<juce::RangedAudioParameter*>(parameter);
        if (ranged == nullptr) continue;
        const auto saved = state->parameters.find(ranged->getParameterID().toStdString());
        // What an older version did not know starts as it does in a new instance.
        ranged->setValueNotifyingHost(saved == state->parameters.end()
                                          ? ranged->getDefaultValue()
                                          : ranged->convertTo0to1(static_cast<float>(saved->second)));
    }
    machine.restore(state->follow, state->undo);
    parameters.measure->setValueNotifyingHost(machine.phase() == Phase::frozen ? 0.0F : 1.0F);
    followingPhase = false;
    trialRun.stop();
    trialRun.lastShortForm = state->trial;
    // By name, for the list may have grown. Only said, not set: what was turned since then is saved above.
    program = 0;
    for (int i = 0; i < getNumPrograms(); ++i)
        if (getProgramName(i).toStdString() == state->preset) program = i;
    screen = state->screen;
}
} // namespace tarry
