#pragma once
#include "Plugin/Controls.h"
#include "Plugin/Trial.h"

#include <cstdint>
#include <optional>
#include <string>

namespace tarry
{
class Engine;

/// A blind trial in an instance: the questions, and the engine's sound that goes with them. It outlives a closed
/// editor. All of it [screen].
class TrialRun
{
public:
    /// The engine outlives it.
    explicit TrialRun(Engine& machine) : engine(machine) {}

    /// What can be compared now is compared to the end, whatever is turned meanwhile. Nothing happens where `values`
    /// names an obstacle. seed: none, a fresh one from the machine.
    void start(bool preference, const Controls& controls, std::optional<std::uint64_t> seed = std::nullopt);
    void stop();
    void hear(TrialSound sound);
    void answer(bool a);

    /// Also keeps the trial going: the first presentation begins as soon as the loudness is matched. Call it while a
    /// trial is on the screen.
    [[nodiscard]] TrialValues values(const Controls& controls);

    /// The last finished trial, for the recall line and the session; empty: none.
    std::string lastShortForm;

private:
    [[nodiscard]] std::string obstacle(const Controls& controls) const;
    [[nodiscard]] std::string circumstances() const;
    void finish();

    Engine& engine;
    Trial trial;
    TrialSound hearing = TrialSound::x;
    bool begun = false; // the first presentation is on
    std::string result, compared, ended;
};
} // namespace tarry
