#include "Plugin/Processor.h"

#include "Plugin/Keeping.h"

namespace tarry
{
// The side-chain is enabled from the start: JUCE publishes a disabled one as optional to LV2, and then copies from a
// null pointer when it is not connected. Silence there means that no room is connected.
Processor::Processor()
    : juce::AudioProcessor(BusesProperties()
                               .withInput("Spot", juce::AudioChannelSet::stereo(), true)
                               .withInput("Room", juce::AudioChannelSet::stereo(), true)
                               .withOutput("Spot", juce::AudioChannelSet::stereo(), true))
{
    machine.onChange = [this] { news.ask(); };
    parameters.measure->addListener(this);
}

Processor::~Processor()
{
    worker.reset();
    news.end();
    parameters.measure->removeListener(this);
}

bool Processor::isBusesLayoutSupported(const BusesLayout& layouts) const
{
    const auto fits = [](const juce::AudioChannelSet& set)
    { return set == juce::AudioChannelSet::mono() || set == juce::AudioChannelSet::stereo(); };
    const auto fitsRoom = [](const juce::AudioChannelSet& set)
    { return set.isDisabled() || set.size() <= maxRoomChannels; }; // mono to a tree, a quad, 5.1 or 7.1
    if (layouts.inputBuses.size() > 2 || layouts.outputBuses.size() != 1) return false;
    const auto spot = layouts.getMainInputChannelSet();
    const auto room = layouts.getChannelSet(true, 1);
    return fits(spot) && layouts.getMainOutputChannelSet() == spot && fitsRoom(room);
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
    if (!worker) worker.emplace(*workers, [this] { return work(); });
}

void Processor::releaseResources()
{
    worker.reset();
}

/// Measures while the host plays. When it renders offline, the engine does this part itself. [worker]
std::chrono::milliseconds Processor::work()
{
    if (!isNonRealtime()) machine.work(parameters.controls());
    // Frozen, there is nothing to do but to watch and to hear of a wish.
    const bool idle = machine.phase() == Phase::frozen && !machine.blind().isRunning();
    return std::chrono::milliseconds(idle ? 50 : 10);
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
    if (auto* head = getPlayHead())
        if (const auto place = head->getPosition()) machine.setHostRecords(place->getIsRecording());
    auto* const* channels = buffer.getArrayOfWritePointers();
    auto controls = parameters.controls();
    controls.bypassed = bypassed;
    machine.process(channels, channels + shape.spotChannels, buffer.getNumSamples(), controls, isNonRealtime());
}

// The host is told of another latency from the message loop: it may call from within a program or state call, with
// locks of its own held, and starts its streams again on hearing of it.
void Processor::setSetup(const Setup& wanted)
{
    if (machine.setSetup(wanted)) news.ask();
}

bool Processor::undo()
{
    const auto beside = machine.undo(besideNow(*this));
    if (beside) applyBeside(*this, *beside);
    return beside.has_value();
}

bool Processor::redo()
{
    const auto beside = machine.redo(besideNow(*this));
    if (beside) applyBeside(*this, *beside);
    return beside.has_value();
}

// --------------------------------------------------------------------------------------------------- names

Names Processor::names() const
{
    const std::scoped_lock guard(keptLock);
    return called;
}

void Processor::setNames(const Names& wanted)
{
    const std::scoped_lock guard(keptLock);
    spotNamedByHand = spotNamedByHand || (wanted.spot != called.spot && !wanted.spot.empty());
    called = wanted;
}

void Processor::updateTrackProperties(const TrackProperties& properties)
{
    const std::scoped_lock guard(keptLock);
    if (!spotNamedByHand && properties.name.isNotEmpty()) called.spot = properties.name.toStdString();
}

std::string Processor::presetName() const
{
    const std::scoped_lock guard(keptLock);
    return preset;
}

void Processor::setPresetName(const std::string& name)
{
    const std::scoped_lock guard(keptLock);
    preset = name;
}

std::string Processor::roomChannelName(int channel) const
{
    const auto* room = getBus(true, 1);
    const auto layout = room != nullptr ? room->getCurrentLayout() : juce::AudioChannelSet();
    const auto type = layout.getTypeOfChannel(channel);
    // A single microphone is left, right and centre alike.
    if (layout.size() < 2 || type == juce::AudioChannelSet::unknown || type >= juce::AudioChannelSet::discreteChannel0)
        return "channel " + std::to_string(channel + 1);
    return juce::AudioChannelSet::getChannelTypeName(type).toLowerCase().toStdString();
}

// The measure parameter asks for measuring or freezing, and shows which of the two it is. [audio] too
void Processor::parameterValueChanged(int, float value)
{
    const auto here = std::this_thread::get_id();
    if (here != following.load() && here != restoring.load()) machine.requestMeasuring(value >= 0.5F);
}

void Processor::tellHost()
{
    if (prepared) setLatencySamples(machine.latencySamples());
    const bool measuring = machine.phase() != Phase::frozen;
    following = std::this_thread::get_id();
    if (parameters.measure->get() != measuring) parameters.measure->setValueNotifyingHost(measuring ? 1.0F : 0.0F);
    // JUCE's VST3 wrapper tells a host of values that change while the host itself sets one, the preset's number, too
    // late for its display: told again. But not whether it measures, which no preset sets: a host that loads a session
    // chooses the preset first, and may give back what it is told here after it has given us the state.
    if (presetChosen.exchange(false))
        for (auto* parameter : getParameters())
            if (parameter != parameters.measure) parameter->sendValueChangedMessageToListeners(parameter->getValue());
    following = std::thread::id();
    if (parameters.sayRendered(machine.renderedUnsettled(), machine.held().has_value()))
        updateHostDisplay(ChangeDetails{}.withParameterInfoChanged(true));
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

int Processor::getCurrentProgram()
{
    const auto chosen = presetName();
    for (int i = 0; i < getNumPrograms(); ++i)
        if (getProgramName(i).toStdString() == chosen) return i;
    return 0;
}

void Processor::setCurrentProgram(int index)
{
    if (index < 0 || index >= getNumPrograms()) return;
    applyPreset(*this, index == 0 ? plainPreset() : ownPresets()[static_cast<std::size_t>(index) - 1]);
    presetChosen = true;
    news.ask();
}

juce::AudioProcessorEditor* Processor::createEditor()
{
    if (editorMaker != nullptr) return editorMaker(*this);
    return new juce::GenericAudioProcessorEditor(*this);
}

void Processor::getStateInformation(juce::MemoryBlock& blob)
{
    State state;
    const auto controls = parameters.controls();
    const auto setup = machine.setup();
    for (const auto& setting : settingTable())
        state.settings[std::string(setting.id)] = setting.valueIn(controls, setup);
    if (!isNonRealtime()) machine.heedRequest(controls); // a host may save right after it turned the parameter
    state.follow = machine.followState();
    state.settings["measure"] = state.follow.phase == Phase::frozen ? 0.0 : 1.0; // not a wish that a lock keeps waiting
    state.history = machine.history();
    state.inputs = machine.report().input;
    state.trial = trialRun.lastShortForm();
    state.trials = trialRun.results();
    state.screen = screen.all();
    {
        const std::scoped_lock guard(keptLock);
        state.names = called;
        state.spotNamedByHand = spotNamedByHand;
        state.preset = preset;
    }
    const auto text = writeState(state);
    blob.replaceAll(text.data(), text.size());
}

void Processor::setStateInformation(const void* data, int size)
{
    if (data == nullptr || size <= 0) return;
    const auto state = readState({static_cast<const char*>(data), static_cast<std::size_t>(size)});
    if (!state) return; // not ours, or broken: everything stays as it is

    // What an older version did not know starts as it does in a new instance.
    restoring = std::this_thread::get_id();
    Setup setup;
    for (const auto& setting : settingTable())
    {
        const auto saved = state->settings.find(std::string(setting.id));
        const double value = saved == state->settings.end() ? setting.initial() : saved->second;
        if (setting.isParameter())
        {
            auto& parameter = parameters[setting.id];
            if (&parameter == parameters.measure) continue; // it follows the phase, below
            parameter.setValueNotifyingHost(parameter.convertTo0to1(static_cast<float>(value)));
        }
        else
        {
            Controls none;
            setting.set(none, setup, value);
        }
    }
    setSetup(setup);
    machine.restore(state->follow, state->history);
    parameters.measure->setValueNotifyingHost(machine.phase() == Phase::frozen ? 0.0F : 1.0F);
    restoring = std::thread::id();
    // A trial ends without its sound, and its page says so: the questions are the screen's alone.
    machine.blind().stop();
    machine.setTrialRuns(false);
    trialRun.setResults(state->trials);
    trialRun.setLast(state->trial);
    screen.replace(state->screen);
    const std::scoped_lock guard(keptLock);
    called = state->names;
    spotNamedByHand = state->spotNamedByHand;
    preset = state->preset; // only said, not set: what was turned since then is saved above
}
} // namespace tarry
