#include "Plugin/Keeping.h"

#include "Core/Controls/RecallLine.h"
#include "Core/Ground/Version.h"
#include "Plugin/Processor.h"

#include "Core/Controls/SettingTable.h"

#include <algorithm>
#include <cmath>
#include <map>

namespace tarry
{
namespace
{
using Kept = Setting::Kept;

/// A parameter is turned, what is no parameter is collected, to be set at once.
void setAll(Processor& processor, const std::map<std::string, double>& values)
{
    auto setup = processor.setup();
    for (const auto& [id, value] : values)
        if (const auto* setting = findSetting(id); setting != nullptr && !setting->isParameter())
        {
            Controls none;
            setting->set(none, setup, value);
        }
    processor.setSetup(setup);
    for (const auto& [id, value] : values)
        if (const auto* setting = findSetting(id); setting != nullptr && setting->isParameter())
            setNotifying(processor.parameters[setting->id], value);
}

Preset makePreset(const std::string& name, const Controls& controls, const Setup& setup, bool withSession)
{
    Preset preset;
    preset.name = name;
    for (const auto& setting : settingTable())
        if (setting.kept == Kept::preset || (withSession && setting.kept == Kept::session))
            preset.values[std::string(setting.id)] = setting.valueIn(controls, setup);
    return preset;
}
} // namespace

void applyPreset(Processor& processor, const Preset& preset)
{
    auto& engine = processor.engine();
    if (engine.locked()) return;
    auto before = besideNow(processor);
    before.trial.reset();
    engine.remember("the preset '" + preset.name + "'", before);
    setAll(processor, preset.values);
    processor.setPresetName(preset.name);
}

Beside besideNow(Processor& processor)
{
    Beside now;
    now.settings = makePreset({}, processor.parameters.controls(), processor.setup(), true).values;
    now.trial = processor.trial().lastShortForm();
    now.preset = processor.presetName();
    return now;
}

void applyBeside(Processor& processor, const Beside& beside)
{
    setAll(processor, beside.settings);
    if (beside.trial) processor.trial().setLast(*beside.trial);
    if (beside.preset) processor.setPresetName(*beside.preset);
}

bool differsFromPreset(Processor& processor, const Preset& preset)
{
    const auto controls = processor.parameters.controls();
    const auto setup = processor.setup();
    return std::any_of(preset.values.begin(), preset.values.end(),
                       [&](const auto& value)
                       {
                           const auto* setting = findSetting(value.first);
                           return setting != nullptr &&
                                  std::abs(setting->valueIn(controls, setup) - value.second) > 1.0e-6;
                       });
}

Preset presetOf(Processor& processor, const std::string& name)
{
    return makePreset(asPresetName(name), processor.parameters.controls(), processor.setup(), true);
}

Preset plainPreset()
{
    return makePreset("Plain", {}, {}, false); // the air is the day's, no preset's
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
    recall.controls = controls;
    recall.names = processor.names();
    recall.sampleRate = processor.engine().shape().sampleRate;
    recall.setup = processor.setup();
    recall.trial = processor.trial().lastShortForm();
    return writeRecallLine(recall);
}

void applyRecallLine(Processor& processor, const std::string& line)
{
    const auto recall = readRecallLine(line);
    auto& engine = processor.engine();
    if (engine.locked()) throw RecallError("Locked: unlock first, then paste.");
    const auto before = besideNow(processor);

    std::map<std::string, double> values;
    for (const auto& setting : settingTable())
        if (!setting.recallKey.empty())
            values[std::string(setting.id)] = setting.valueIn(recall.controls, recall.setup);
    setAll(processor, values);
    processor.trial().setLast(recall.trial);
    if (recall.names != Names{}) processor.setNames(recall.names);

    Follow::State wanted;
    wanted.held = recall.held;
    wanted.phase = recall.held ? Phase::frozen : Phase::measuring;
    wanted.byHand = recall.byHand;
    wanted.confidence = recall.held ? recall.confidence : 0.0;
    if (recall.held) wanted.verdict = recall.verdict;
    engine.restoreWithUndo(wanted, "the recall line", before);
}
} // namespace tarry
