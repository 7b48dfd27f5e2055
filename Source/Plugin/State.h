#pragma once
#include "Core/Controls/Names.h"
#include "Plugin/Follow.h"
#include "Plugin/History.h"

#include <map>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace tarry
{
/// What a session keeps of an instance. No JUCE: VST3 and LV2 wrap the same text in blobs of their own.
struct State
{
    static constexpr int currentVersion = 2;
    static constexpr std::size_t savedSteps = 10; ///< of undo, the latest; the latest four reports among them

    std::map<std::string, double> settings; ///< by id, in the setting's own unit; `blend` is never among them
    Follow::State follow; ///< lag in seconds: it survives another sample rate; with the report that is told beside it
    History<Follow::State> history; ///< what can be undone
    Names names;
    bool spotNamedByHand = false;              ///< else the spot's name follows the host's track
    InputState inputs = InputState::good;      ///< as the screen tells them when it is saved; sets nothing
    std::string preset;                        ///< name of the last one chosen; empty: none
    std::string trial;                         ///< short form of the blind trial that counts; empty: none
    std::vector<std::string> trials;           ///< of all of them, the latest last
    std::map<std::string, std::string> screen; ///< the editor's own: unit, zoom, colours, size
};

/// As JSON text. [screen]
[[nodiscard]] std::string writeState(const State& state);

/// None where the text is no state of ours, or too long or too deep for one; whatever is missing or out of range keeps
/// its default. Reads every version up to the current one, and of a later one what it knows. [screen]
[[nodiscard]] std::optional<State> readState(std::string_view text);
} // namespace tarry
