#pragma once
#include "Core/Report/Report.h"
#include "Plugin/Controls.h"
#include "Plugin/Follow.h"

#include <map>
#include <optional>
#include <string>
#include <string_view>

namespace tarry
{
/// What a session keeps of an instance. No JUCE: VST3 and LV2 wrap the same text in blobs of their own.
struct State
{
    static constexpr int currentVersion = 1;

    std::map<std::string, double> parameters; ///< by id, in the parameter's own unit; `blend` is never among them
    Setup setup;
    Follow::State follow; ///< lag in seconds: it survives another sample rate
    std::optional<Follow::State> undo;
    std::string preset;                        ///< name of the last one chosen; empty: none
    std::string trial;                         ///< short form of the last blind trial; empty: none
    std::map<std::string, std::string> screen; ///< the editor's own: unit, zoom, colours, size
};

/// As JSON text. The report goes along for people and programs to read; it is not read back. [screen]
[[nodiscard]] std::string writeState(const State& state, const Report& report);

/// None where the text is no state of ours; whatever is missing or out of range keeps its default. Reads every version
/// up to the current one, and of a later one what it knows. [screen]
[[nodiscard]] std::optional<State> readState(std::string_view text);
} // namespace tarry
