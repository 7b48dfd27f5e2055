#pragma once
#include "Core/Controls/Controls.h"
#include "Plugin/Trial.h"

#include <atomic>
#include <cstdint>
#include <mutex>
#include <optional>
#include <string>
#include <vector>

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

    /// Short forms of the finished trials, the latest last: for the session. Any thread but audio.
    [[nodiscard]] std::vector<std::string> results() const;
    void setResults(const std::vector<std::string>& wanted);
    /// The latest, for the recall line; empty: none. Setting it is no new result: undo, or a recall line's.
    [[nodiscard]] std::string lastShortForm() const;
    void setLast(const std::string& shortForm);

    /// Whether anybody could hear a trial: false where there is no sound device. Yes, unless somebody says otherwise.
    void setAudible(bool can) noexcept { audible = can; }

private:
    [[nodiscard]] std::string obstacle(const Controls& controls) const;
    [[nodiscard]] std::string circumstances() const;
    [[nodiscard]] std::string missing() const;
    void present();
    void listen(TrialSound sound, bool fresh);
    void finish();

    Engine& engine;
    Trial trial;
    TrialSound hearing = TrialSound::x;
    bool begun = false;                               // the first presentation is on
    bool heardAligned = false, heardRecorded = false; // in this presentation, by their names
    std::string result, details, compared, ended;
    std::atomic<bool> audible{true};
    mutable std::mutex keptLock;
    std::vector<std::string> kept; // guarded by keptLock, as `last` is
    std::string last;
};
} // namespace tarry
