#include "Editor/ProcessorLink.h"

#include "Core/Controls/RecallLine.h"
#include "Plugin/Advice.h"
#include "Plugin/Keeping.h"
#include "Plugin/Processor.h"

#include <cmath>

namespace tarry
{
namespace
{
constexpr juce::uint32 clipHold = 3000; // ms for which a clipped sample stays on the screen
} // namespace

EditorValues ProcessorLink::values()
{
    auto& engine = plugin.engine();
    EditorValues now;
    now.phase = engine.phase();
    now.controls = plugin.parameters.controls();
    now.setup = engine.setup();
    const auto held = engine.held();
    now.hasLag = held.has_value();
    now.held = held.value_or(Sides{});
    now.byHand = engine.byHand();
    now.shortestLag = Engine::minLagByHand;
    now.longestLag = Engine::maxLagByHand;
    now.freezeWords = freezeWords(engine.freezePlan(now.controls));
    now.undoWords = engine.undoWords();
    now.redoWords = engine.redoWords();
    if (const auto offer = engine.offer())
    {
        now.offered = offer->sides;
        now.offerWords = offerWords(*offer, held);
    }
    now.locked = engine.locked();
    now.renderedUnsettled = engine.renderedUnsettled();
    now.names = plugin.names();
    now.preset = plugin.presetName();
    now.spotClipped = juce::Time::getMillisecondCounter() < clippedUntil;
    const auto& streams = engine.shape();
    now.sampleRate = streams.sampleRate;
    now.spotChannels = streams.spotChannels;
    now.roomChannels = streams.roomChannels;
    if (const auto number = engine.reportNumber(); number != adviceFor.number || !(now.setup == adviceFor.setup) ||
                                                   !(now.controls == adviceFor.controls) ||
                                                   now.preset != adviceFor.preset)
    {
        // Dear enough not to be asked for at every tick.
        const auto report = engine.report();
        adviceFor = {number,
                     now.setup,
                     now.controls,
                     now.preset,
                     adviceOn(report, engine.followState(), now.controls, now.setup, now.spotChannels),
                     tapeWords(report.lag, now.setup)};
        presetChanged = isPresetChanged(now.preset);
    }
    now.advice = adviceFor.words;
    now.tapeWords = adviceFor.tape;
    now.presetChanged = presetChanged;
    return now;
}

Levels ProcessorLink::takeLevels()
{
    const Levels levels{plugin.engine().takeSpotPeak(), plugin.engine().takeRoomPeak()};
    if (levels.spot >= 1.0F) clippedUntil = juce::Time::getMillisecondCounter() + clipHold;
    return levels;
}

unsigned ProcessorLink::reportNumber() const
{
    return plugin.engine().reportNumber();
}

Report ProcessorLink::report() const
{
    return plugin.engine().report();
}

void ProcessorLink::begin(Control control)
{
    plugin.parameters[control].beginChangeGesture();
}

void ProcessorLink::set(Control control, double value)
{
    auto& parameter = plugin.parameters[control];
    parameter.setValueNotifyingHost(parameter.convertTo0to1(static_cast<float>(value)));
}

void ProcessorLink::end(Control control)
{
    plugin.parameters[control].endChangeGesture();
}

void ProcessorLink::setSetup(const Setup& setup)
{
    plugin.setSetup(setup);
}

void ProcessorLink::measure()
{
    plugin.engine().measure();
}

void ProcessorLink::freeze()
{
    plugin.engine().freeze(plugin.parameters.controls());
}

void ProcessorLink::apply()
{
    plugin.engine().apply(plugin.parameters.controls());
}

void ProcessorLink::undo()
{
    plugin.undo();
}

void ProcessorLink::redo()
{
    plugin.redo();
}

void ProcessorLink::takeOffer()
{
    plugin.engine().takeOffer();
}

void ProcessorLink::dismissOffer()
{
    plugin.engine().dismissOffer();
}

void ProcessorLink::setNames(const Names& names)
{
    plugin.setNames(names);
}

bool ProcessorLink::hasHost() const
{
    return plugin.hasHost;
}

juce::String ProcessorLink::roomChannelName(int channel) const
{
    return juce::String::fromUTF8(plugin.roomChannelName(channel).c_str());
}

void ProcessorLink::setLagByHand(double seconds, bool sameGesture)
{
    plugin.engine().setLagByHand(seconds, sameGesture);
}

void ProcessorLink::nudge(double seconds)
{
    plugin.engine().nudge(seconds);
}

void ProcessorLink::nudgeSamples(int samples)
{
    plugin.engine().nudgeSamples(samples);
}

void ProcessorLink::setPolarity(Polarity polarity)
{
    plugin.engine().setPolarity(polarity);
}

juce::String ProcessorLink::screenSetting(const juce::String& key) const
{
    return juce::String::fromUTF8(plugin.screen.get(key.toStdString()).c_str());
}

void ProcessorLink::setScreenSetting(const juce::String& key, const juce::String& value)
{
    plugin.screen.set(key.toStdString(), value.toStdString());
}

// ------------------------------------------------------------------------------------------------- presets

namespace
{
constexpr juce::int64 largestPreset = 65536; // bytes: a preset has a few hundred

juce::Array<juce::File> userPresets(const juce::File& folder)
{
    auto files = folder.findChildFiles(juce::File::findFiles, false, juce::String("*") + presetEnding);
    files.sort();
    return files;
}

/// A folder's last part and the file's name: what a user needs to find it again.
juce::String cannot(const char* act, const juce::File& file)
{
    return file.getFileName() + ": cannot be " + act + " in " + file.getParentDirectory().getFullPathName() + ".";
}
} // namespace

juce::File ProcessorLink::folder() const
{
    return juce::File::getSpecialLocation(juce::File::userApplicationDataDirectory)
        .getChildFile("Tarry")
        .getChildFile("Presets");
}

juce::StringArray ProcessorLink::names() const
{
    juce::StringArray all;
    for (int i = 0; i < plugin.getNumPrograms(); ++i) all.add(plugin.getProgramName(i));
    for (const auto& file : userPresets(folder())) all.add(file.getFileNameWithoutExtension());
    return all;
}

/// Whether what the preset sets has been changed since. A preset that is gone cannot tell.
bool ProcessorLink::isPresetChanged(const std::string& name)
{
    if (name.empty()) return false;
    if (!chosenPreset || chosenPreset->name != name)
    {
        chosenPreset.reset();
        for (const auto& own : ownPresets())
            if (own.name == name) chosenPreset = own;
        if (plainPreset().name == name) chosenPreset = plainPreset();
        const auto file = folder().getChildFile(juce::String::fromUTF8(name.c_str()) + presetEnding);
        if (!chosenPreset && file.existsAsFile() && file.getSize() <= largestPreset) try
            {
                chosenPreset = readPreset(file.loadFileAsString().toStdString(), name);
            }
            catch (const PresetError&)
            {
                return false;
            }
    }
    return chosenPreset && differsFromPreset(plugin, *chosenPreset);
}

juce::String ProcessorLink::load(int index)
{
    const int own = plugin.getNumPrograms();
    if (index >= own)
    {
        const auto files = userPresets(folder());
        if (index - own >= files.size()) return "That preset is gone from " + folder().getFullPathName() + ".";
        return load(files[index - own]);
    }
    plugin.setCurrentProgram(index);
    plugin.updateHostDisplay(juce::AudioProcessor::ChangeDetails{}.withProgramChanged(true));
    return {};
}

juce::String ProcessorLink::load(const juce::File& file)
{
    if (!file.existsAsFile() || !file.hasReadAccess()) return cannot("read", file);
    if (file.getSize() > largestPreset) return file.getFileName() + ", line 1: far too long for a preset.";
    try
    {
        applyPreset(plugin, readPreset(file.loadFileAsString().toStdString(), file.getFileName().toStdString()));
        return {};
    }
    catch (const PresetError& error)
    {
        return juce::String::fromUTF8(error.what());
    }
}

juce::String ProcessorLink::save(const juce::File& file)
{
    const auto text = writePreset(presetOf(plugin, file.getFileNameWithoutExtension().toStdString()));
    // By way of a temporary file: a preset that cannot be written whole leaves the old one as it was.
    const bool written = file.getParentDirectory().createDirectory().wasOk() &&
                         file.replaceWithText(juce::String::fromUTF8(text.c_str()), false, false, "\n");
    return written ? juce::String() : cannot("written", file);
}

// --------------------------------------------------------------------------------------------- recall line

juce::String ProcessorLink::line() const
{
    return juce::String::fromUTF8(recallLineOf(plugin).c_str());
}

juce::String ProcessorLink::apply(const juce::String& line)
{
    try
    {
        applyRecallLine(plugin, line.toStdString());
        return {};
    }
    catch (const RecallError& error)
    {
        return juce::String::fromUTF8(error.what());
    }
}

// --------------------------------------------------------------------------------------------------- trial

TrialValues ProcessorLink::state() const
{
    return plugin.trial().values(plugin.parameters.controls());
}

void ProcessorLink::start(bool preference)
{
    plugin.trial().start(preference, plugin.parameters.controls());
}

void ProcessorLink::stop()
{
    plugin.trial().stop();
}

void ProcessorLink::hear(TrialSound sound)
{
    plugin.trial().hear(sound);
}

void ProcessorLink::answer(bool a)
{
    plugin.trial().answer(a);
}
} // namespace tarry
