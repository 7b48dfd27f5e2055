#include "Plugin/Keeping.h"

#include "Core/Ground/Version.h"
#include "Plugin/Processor.h"
#include "Plugin/RecallLine.h"

#include <array>

namespace tarry
{
namespace
{
constexpr std::array momentary{"bypass", "measure", "blend"};

bool isMomentary(const juce::String& id)
{
    return std::find(momentary.begin(), momentary.end(), id) != momentary.end();
}

template <typename Act>
void forEachKept(Processor& processor, Act act)
{
    for (auto* parameter : processor.getParameters())
        if (auto* ranged = dynamic_cast<juce::RangedAudioParameter*>(parameter);
            ranged != nullptr && !isMomentary(ranged->getParameterID()))
            act(*ranged);
}

void set(juce::RangedAudioParameter& parameter, double value)
{
    const float wanted = parameter.convertTo0to1(static_cast<float>(value));
    if (parameter.getValue() == wanted) return;
    parameter.beginChangeGesture();
    parameter.setValueNotifyingHost(wanted);
    parameter.endChangeGesture();
}
} // namespace

void applyPreset(Processor& processor, const Preset& preset)
{
    auto setup = processor.setup();
    setup.lookAhead = preset.lookAhead.value_or(setup.lookAhead);
    setup.roomArrivesLate = preset.roomArrivesLate.value_or(setup.roomArrivesLate);
    setup.temperature = preset.temperature.value_or(setup.temperature);
    processor.setSetup(setup);
    forEachKept(processor,
                [&](juce::RangedAudioParameter& parameter)
                {
                    const auto named = preset.parameters.find(parameter.getParameterID().toStdString());
                    if (named != preset.parameters.end()) set(parameter, named->second);
                });
}

Preset presetOf(Processor& processor, const std::string& name)
{
    Preset preset;
    preset.name = asPresetName(name);
    forEachKept(processor,
                [&](juce::RangedAudioParameter& parameter)
                {
                    preset.parameters[parameter.getParameterID().toStdString()] =
                        static_cast<double>(parameter.convertFrom0to1(parameter.getValue()));
                });
    const auto setup = processor.setup();
    preset.lookAhead = setup.lookAhead;
    preset.roomArrivesLate = setup.roomArrivesLate;
    preset.temperature = setup.temperature;
    return preset;
}

Preset plainPreset(Processor& processor)
{
    Preset preset;
    preset.name = "Plain";
    forEachKept(processor,
                [&](juce::RangedAudioParameter& parameter)
                {
                    preset.parameters[parameter.getParameterID().toStdString()] =
                        static_cast<double>(parameter.convertFrom0to1(parameter.getDefaultValue()));
                });
    preset.lookAhead = Setup{}.lookAhead;
    preset.roomArrivesLate = Setup{}.roomArrivesLate; // the air is the day's, no preset's
    return preset;
}

std::string recallLineOf(Processor& processor)
{
    const auto controls = processor.parameters.controls();
    const auto follow = processor.engine().followState();
    RecallLine recall;
    recall.version = version();
    recall.held = follow.held;
    recall.byHand = follow.byHand;
    recall.confidence = follow.confidence;
    recall.verdict = follow.verdict;
    if (!follow.held)
        if (const auto report = processor.engine().report(); report.hitsFound > 0)
        {
            recall.confidence = report.confidence; // of what was heard and not taken: perhaps why it was left
            recall.verdict = report.verdict;
        }
    recall.aligned = controls.aligned;
    recall.lean = controls.lean;
    recall.wholeSamples = controls.wholeSamples;
    recall.eachSide = controls.eachSide;
    recall.clap = controls.clap;
    recall.reach = controls.reach;
    recall.roomChannel = controls.roomChannel;
    recall.setup = processor.setup();
    recall.trial = processor.trial().lastShortForm;
    return writeRecallLine(recall);
}

void applyRecallLine(Processor& processor, const std::string& line)
{
    const auto recall = readRecallLine(line);
    const auto& parameters = processor.parameters;
    processor.setSetup(recall.setup);
    set(*parameters.aligned, recall.aligned ? 1.0 : 0.0);
    set(*parameters.lean, recall.lean * 1000.0);
    set(*parameters.wholeSamples, recall.wholeSamples ? 1.0 : 0.0);
    set(*parameters.eachSide, recall.eachSide ? 1.0 : 0.0);
    set(*parameters.clap, recall.clap ? 1.0 : 0.0);
    set(*parameters.reach, recall.reach * 1000.0);
    set(*parameters.roomChannel, recall.roomChannel + 1.0);
    processor.trial().lastShortForm = recall.trial;

    auto& engine = processor.engine();
    Follow::State wanted;
    wanted.held = recall.held;
    wanted.phase = recall.held ? Phase::frozen : Phase::measuring;
    wanted.byHand = recall.byHand;
    wanted.confidence = recall.held ? recall.confidence : 0.0;
    if (recall.held) wanted.verdict = recall.verdict;
    engine.restoreWithUndo(wanted);
}
} // namespace tarry
