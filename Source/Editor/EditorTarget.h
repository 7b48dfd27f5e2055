#pragma once
#include "Core/Controls/SettingTable.h"
#include "Editor/EditorModel.h"

#include <juce_core/juce_core.h>

namespace tarry
{
/// What can be turned from the screen, automated by the host and saved: a member of Controls, as `&Controls::lean`. Its
/// values are in the setting's own unit, as the table has it: ms, dB, 0 or 1.
using Control = Setting::Member;

/// Presets: the project's own first, then those of the user's folder; others by file. [screen]
class PresetTarget
{
public:
    virtual ~PresetTarget() = default;
    /// May read the folder anew: not at every tick.
    [[nodiscard]] virtual juce::StringArray names() const = 0;
    /// Where the user's own are kept.
    [[nodiscard]] virtual juce::File folder() const = 0;
    /// Each returns nothing on success, else one line for the user.
    virtual juce::String load(int index) = 0;
    virtual juce::String load(const juce::File&) = 0;
    virtual juce::String save(const juce::File&) = 0;
};

/// The recall line. [screen]
class RecallTarget
{
public:
    virtual ~RecallTarget() = default;
    [[nodiscard]] virtual juce::String line() const = 0;
    virtual juce::String apply(const juce::String& line) = 0; ///< nothing, or one line that says what is wrong
};

/// The blind trial. [screen]
class TrialTarget
{
public:
    virtual ~TrialTarget() = default;
    [[nodiscard]] virtual TrialValues state() const = 0;
    virtual void start(bool preference) = 0;
    virtual void stop() = 0;
    virtual void hear(TrialSound) = 0;
    virtual void answer(bool a) = 0; ///< X is A, or A is better
};

/// The editor's other end: the processor in the plugin, a made-up one in the tests. [screen]
class EditorTarget
{
public:
    virtual ~EditorTarget() = default;

    /// The small values, read at every tick of the timer.
    [[nodiscard]] virtual EditorValues values() = 0;
    /// The loudest samples since the last call.
    virtual Levels takeLevels() = 0;
    /// Changes with every new report. `report` copies, so it is asked for only then.
    [[nodiscard]] virtual unsigned reportNumber() const = 0;
    [[nodiscard]] virtual Report report() const = 0;

    /// One gesture: begin, any number of set, end.
    virtual void begin(Control) = 0;
    virtual void set(Control, double value) = 0;
    virtual void end(Control) = 0;
    virtual void setSetup(const Setup&) = 0;

    virtual void measure() = 0;
    virtual void freeze() = 0;
    virtual void apply() = 0; ///< what the report says, sure or not
    virtual void undo() = 0;
    virtual void redo() = 0;
    virtual void takeOffer() = 0;
    virtual void dismissOffer() = 0;
    virtual void setNames(const Names&) = 0;
    virtual void setLagByHand(double seconds, bool sameGesture) = 0;
    virtual void nudge(double seconds) = 0;
    virtual void nudgeSamples(int samples) = 0;
    virtual void setPolarity(Polarity) = 0;

    /// What this end offers beyond that; what it does not is left off the screen.
    [[nodiscard]] virtual bool hasHost() const { return true; } ///< which records, and may deliver the room late
    [[nodiscard]] virtual PresetTarget* presets() { return nullptr; }
    [[nodiscard]] virtual RecallTarget* recall() { return nullptr; }
    [[nodiscard]] virtual TrialTarget* trial() { return nullptr; }

    /// What a channel of the room is called: "left", "centre", "channel 4".
    [[nodiscard]] virtual juce::String roomChannelName(int channel) const
    {
        return channel == 0 ? "left" : channel == 1 ? "right" : "channel " + juce::String(channel + 1);
    }

    /// The editor's own settings, saved with the session; empty where there is none.
    [[nodiscard]] virtual juce::String screenSetting(const juce::String& key) const = 0;
    virtual void setScreenSetting(const juce::String& key, const juce::String& value) = 0;
};
} // namespace tarry
