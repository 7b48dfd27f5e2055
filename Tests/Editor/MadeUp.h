#pragma once
#include "Editor/Body.h"

#include <map>
#include <memory>
#include <string>
#include <utility>
#include <vector>

/// Models and a target made up for the tests: every state, with short and with long values.
namespace tarry::test
{
/// A target that remembers what it was asked for, and does it where that is simple.
class MadeUpTarget : public EditorTarget, private PresetTarget, private RecallTarget, private TrialTarget
{
public:
    explicit MadeUpTarget(EditorModel start) : model(std::move(start)) {}

    EditorModel model;
    unsigned number = 1;
    Levels levels;
    std::vector<std::string> asked; ///< in order: "measure", "begin lean", "set lean 8.0000", "end lean"
    std::map<juce::String, juce::String> screen;
    mutable int reportsCopied = 0;
    bool host = true;

    EditorValues values() override { return model.values; }
    Levels takeLevels() override { return levels; }
    [[nodiscard]] unsigned reportNumber() const override { return number; }
    [[nodiscard]] Report report() const override
    {
        ++reportsCopied;
        return model.report;
    }
    void begin(Control) override;
    void set(Control, double value) override;
    void end(Control) override;
    void setSetup(const Setup& setup) override { model.values.setup = setup; }
    void measure() override;
    void freeze() override;
    void apply() override { asked.emplace_back("apply"); }
    void undo() override { asked.emplace_back("undo"); }
    void redo() override { asked.emplace_back("redo"); }
    void takeOffer() override { asked.emplace_back("take offer"); }
    void dismissOffer() override { asked.emplace_back("keep"); }
    void setNames(const Names& names) override { model.values.names = names; }
    void setLagByHand(double seconds, bool sameGesture) override;
    void nudge(double seconds) override;
    void nudgeSamples(int samples) override;
    void setPolarity(Polarity) override;
    [[nodiscard]] bool hasHost() const override { return host; }
    PresetTarget* presets() override { return this; }
    RecallTarget* recall() override { return this; }
    TrialTarget* trial() override { return this; }
    [[nodiscard]] juce::String screenSetting(const juce::String& key) const override;
    void setScreenSetting(const juce::String& key, const juce::String& value) override { screen[key] = value; }

private:
    [[nodiscard]] juce::StringArray names() const override;
    juce::String load(int index) override;
    juce::String load(const juce::File&) override { return {}; }
    [[nodiscard]] juce::File folder() const override { return {}; }
    juce::String save(const juce::File&) override { return {}; }
    [[nodiscard]] juce::String line() const override { return "a line"; }
    juce::String apply(const juce::String&) override { return "No recall line on the clipboard."; }
    [[nodiscard]] TrialValues state() const override { return model.trial; }
    void start(bool preference) override;
    void stop() override { model.trial.running = false; }
    void hear(TrialSound sound) override { model.trial.hearing = sound; }
    void answer(bool a) override;
};

struct NamedModel
{
    std::string name;
    EditorModel model;
};

/// One of each: states, verdicts, input faults, long and short values.
[[nodiscard]] std::vector<NamedModel> madeUpModels();
/// The one named; fails the test where there is none.
[[nodiscard]] EditorModel madeUpModel(const std::string& name);
} // namespace tarry::test
