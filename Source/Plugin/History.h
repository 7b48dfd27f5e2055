#pragma once
#include <cstddef>
#include <map>
#include <optional>
#include <string>
#include <utility>
#include <vector>

namespace tarry
{
/// What an act changed beside what is held: a preset or a recall line the settings, a trial its note. What it did not
/// touch is empty.
struct Beside
{
    std::map<std::string, double> settings; ///< by id, in the setting's own unit
    std::optional<std::string> trial, preset;

    bool operator==(const Beside&) const = default;
};

/// Steps back and forward. Pure logic.
template <typename State>
class History
{
public:
    static constexpr std::size_t longest = 50; // steps: more than anybody goes back

    struct Step
    {
        std::string what; ///< what undoing it takes back: "the lag by hand"
        State state;
        Beside beside;

        bool operator==(const Step&) const = default;
    };

    /// Before an act: how things are. What was undone before can no longer be redone.
    void remember(const std::string& what, const State& before, const Beside& beside = {})
    {
        undone.clear();
        done.push_back({what, before, beside});
        if (done.size() > longest) done.erase(done.begin());
    }

    /// The step to go back to; `now` and `beside` are kept for the way forward, as far as the step concerns them.
    std::optional<Step> undo(const State& now, const Beside& beside) { return move(done, undone, now, beside); }
    std::optional<Step> redo(const State& now, const Beside& beside) { return move(undone, done, now, beside); }

    /// What undo or redo would take back or bring back; empty where there is nothing.
    [[nodiscard]] std::string undoWords() const { return done.empty() ? std::string() : done.back().what; }
    [[nodiscard]] std::string redoWords() const { return undone.empty() ? std::string() : undone.back().what; }

    /// Oldest first. For saving.
    [[nodiscard]] const std::vector<Step>& steps() const { return done; }
    [[nodiscard]] bool canUndo() const { return !done.empty(); }
    [[nodiscard]] bool canRedo() const { return !undone.empty(); }

    bool operator==(const History&) const = default;

private:
    static std::optional<Step> move(std::vector<Step>& from, std::vector<Step>& to, const State& now,
                                    const Beside& beside)
    {
        if (from.empty()) return std::nullopt;
        Step step = std::move(from.back());
        from.pop_back();
        Beside concerned;
        if (!step.beside.settings.empty()) concerned.settings = beside.settings;
        if (step.beside.trial) concerned.trial = beside.trial;
        if (step.beside.preset) concerned.preset = beside.preset;
        to.push_back({step.what, now, concerned});
        return step;
    }

    std::vector<Step> done, undone;
};
} // namespace tarry
