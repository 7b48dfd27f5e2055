#pragma once
#include "Core/Ground/Types.h"
#include "Core/Report/Report.h"
#include "Core/Report/Verdict.h"

#include <array>
#include <optional>

namespace tarry
{
enum class Phase
{
    measuring, ///< measures; what is applied is what was held before, if anything
    settled,   ///< measures, has enough agreeing hits, and what is applied follows
    frozen     ///< holds what is applied for good and no longer measures
};

/// The alignment of each side of the spot. The sides are the same unless each follows its own.
struct Sides
{
    std::array<Alignment, maxSpotChannels> side;

    static Sides both(const Alignment& one) { return {{one, one}}; }
    bool operator==(const Sides&) const = default;
};

/// The rule by which a measurement becomes something applied: measuring, settled, frozen, and one step of undo.
/// Pure logic, no threads: whoever shares it locks it.
///
/// What is held is state, not a parameter. A parameter would have to be written from the message thread, which an
/// offline render does not wait for; it would fill the host's undo list while the plugin measures; and a host that
/// plays automation back could overwrite what was measured.
class Follow
{
public:
    /// Settled: the verdict is `align`, the lag is right to within 0.5 ms with nine chances in ten, and at least so
    /// many hits agree (one is enough for a clap). Four is common practice in the trade, a bar of quarter notes: what a
    /// player is asked for before a recording.
    static constexpr double settledConfidence = trusted;
    static constexpr int settledHits = 4;

    /// s. A smaller change of lag is not followed: it cannot be heard. Two equal signals that lie 0.05 ms apart lose
    /// 1 dB at 3 kHz, 20 log10 cos(pi f t), and less below; every move costs a crossfade.
    static constexpr double audibleChange = 50.0e-6;

    [[nodiscard]] static bool isSettled(const Report& report, bool clap);
    [[nodiscard]] static bool canBeHeard(const Sides& from, const Sides& to);
    /// The lag of each side: the report's one lag, or with `eachSide` the side's own where it is as sure.
    [[nodiscard]] static std::optional<Sides> estimate(const Report& report, bool eachSide);

    /// Takes note of a new report. True when phase or what is held has changed.
    bool consider(const Report& report, bool clap, bool eachSide, bool freezeWhenSettled);

    /// Measures (again). What is held stays applied until something new is applied.
    void measure();
    /// Holds for good: the estimate if it is settled, else what is held (nothing: the spot stays as recorded).
    void freeze(const Report& report, bool clap, bool eachSide);
    /// Takes what the report says, sure or not, and freezes. False where it says nothing.
    bool apply(const Report& report, bool eachSide);
    /// Set by hand, and frozen. `sameGesture`: part of the drag that the last call began, so undo goes back before it.
    void setByHand(const Sides& wanted, bool sameGesture = false);
    /// Back before the last thing that was taken or set; again: forward. False where there is nothing to go back to.
    bool undo();

    [[nodiscard]] Phase phase() const { return now.phase; }
    [[nodiscard]] const std::optional<Sides>& held() const { return now.held; }
    [[nodiscard]] bool byHand() const { return now.byHand; }
    [[nodiscard]] bool canUndo() const { return before.has_value(); }

    /// What has to be saved, and put back: a reopened session is frozen and silent about it.
    struct State
    {
        Phase phase = Phase::measuring;
        std::optional<Sides> held; ///< none: nothing has been taken yet, the spot passes as recorded
        bool byHand = false;
        double confidence = 0.0;        ///< of the report it was taken from; 0 by hand
        std::optional<Verdict> verdict; ///< of that report; none by hand

        bool operator==(const State&) const = default;
    };
    [[nodiscard]] const State& state() const { return now; }
    [[nodiscard]] const std::optional<State>& undoState() const { return before; }
    /// What is held is frozen from then on, whatever the phase was when it was saved.
    void restore(const State& saved, const std::optional<State>& savedBefore);
    /// The same as an act of the user: undo goes back before it.
    void replace(const State& wanted);

private:
    void remember();
    void accept(const Sides& found, const Report& report);

    State now;
    std::optional<State> before;
    bool followed = false; // something has been taken since measuring began: later moves are the same step of undo
};
} // namespace tarry
