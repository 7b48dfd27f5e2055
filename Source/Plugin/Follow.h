#pragma once
#include "Core/Controls/Controls.h"
#include "Core/Controls/Sides.h"
#include "Core/Report/Report.h"
#include "Core/Report/SideAlignment.h"
#include "Core/Report/Verdict.h"
#include "Plugin/History.h"

#include <memory>
#include <optional>
#include <string>

namespace tarry
{
enum class Phase
{
    measuring, ///< measures; what is applied is what was held before, if anything
    settled,   ///< measures, has enough agreeing hits, and what is applied follows
    frozen     ///< holds what is applied for good and no longer measures
};

/// What the rule goes by.
struct FollowRules
{
    bool clap = false;              ///< one clap is enough
    bool eachSide = false;          ///< each side its own lag
    bool freezeWhenSettled = false; ///< hold as soon as it is settled
    double lookAhead = 0.0;         ///< s: by how much the spot can move earlier
};
[[nodiscard]] FollowRules rulesOf(const Controls& controls, const Setup& setup);

/// What was measured and not applied, because nobody asked for that: it waits to be taken.
struct Offer
{
    enum class Why
    {
        moved,        ///< while measuring: the lag is another one now
        besideByHand, ///< a lag was set by hand, which a measurement never overwrites
        rendered,     ///< measured by an offline render, which holds what was held at its start
        watched       ///< frozen, and the held lag no longer fits
    };
    Why why = Why::moved;
    Sides sides;
    std::shared_ptr<const Report> from;

    bool operator==(const Offer&) const = default;
};

/// The rule by which a measurement becomes something applied: measuring, settled, frozen, and every step back.
/// Pure logic, no threads: whoever shares it locks it.
///
/// What is held is state, not a parameter. A parameter would have to be written from the message thread, which an
/// offline render does not wait for; it would fill the host's undo list while the plugin measures; and a host that
/// plays automation back could overwrite what was measured.
class Follow
{
public:
    /// Settled: the verdict is `align`, the lag is right to within 0.5 ms with nine chances in ten, and at least so
    /// many different hits agree (one is enough for a clap). Four is common practice in the trade, a bar of quarter
    /// notes: what a player is asked for before a recording.
    static constexpr double settledConfidence = trusted;
    static constexpr int settledHits = 4;
    /// Freezing by choice needs a second hit that says the same: one alone never does.
    static constexpr int freezeHits = 2;

    /// s. A smaller change of lag is not followed: it cannot be heard, and every move costs a crossfade.
    static constexpr double audibleChange = tarry::audibleChange;
    /// s. A measured lag is right to within this (see Report::confidence): one further off is another lag, which is
    /// offered and never followed.
    static constexpr double otherLag = 0.5e-3;

    [[nodiscard]] static bool isSettled(const Report& report, const FollowRules& rules);
    [[nodiscard]] static bool canBeHeard(const Sides& from, const Sides& to);
    /// Another polarity, or further off than a measurement can be.
    [[nodiscard]] static bool isOther(const Sides& from, const Sides& to);
    /// The lag of each side: the report's one lag, or with `eachSide` the side's own where it is as sure.
    [[nodiscard]] static std::optional<Sides> estimate(const Report& report, bool eachSide);
    /// Whether the look-ahead (s) is enough for a spot that has to move earlier. Without, it could only be applied
    /// wrongly.
    [[nodiscard]] static bool canBeApplied(const Sides& sides, double lookAhead);

    /// Takes note of a new report while measuring. `holdStill`: what is applied stays, what was found is offered (an
    /// offline render). True when phase, what is held or what is offered has changed.
    bool consider(const Report& report, const FollowRules& rules, bool holdStill = false);
    /// The same while frozen, of what was heard since: offers a lag that fits better, and takes the offer back where
    /// the held one fits again. True when the offer has changed.
    bool watch(const Report& report, const FollowRules& rules);

    /// Measures (again). What is held stays applied until something new is applied.
    void measure();

    /// What freezing would do now.
    struct FreezePlan
    {
        enum class Does
        {
            takesEstimate,
            keepsHeld,
            staysAsRecorded
        };
        Does does = Does::staysAsRecorded;
        std::optional<Sides> sides; ///< that will be held
    };
    [[nodiscard]] FreezePlan freezePlan(const Report& report, const FollowRules& rules) const;
    /// Holds for good, as planned: an estimate of `align` (but never over a lag set by hand), else what is held.
    void freeze(const Report& report, const FollowRules& rules);
    /// Takes what the report says, sure or not, and freezes. False where it says nothing that can be applied.
    bool apply(const Report& report, const FollowRules& rules);
    /// Takes what is offered, and freezes. False where nothing is offered.
    bool takeOffer();
    /// Turns it down: the same lag is not offered again until measuring begins anew.
    void dismissOffer();
    /// Set by hand, and frozen. `sameGesture`: part of the drag that the last call began, so undo goes back before it.
    void setByHand(const Sides& wanted, const std::string& what, bool sameGesture = false);
    /// What the report beside a lag by hand speaks of: the measured lag. Nothing where none was measured.
    void keepBeside(const Report& report);

    [[nodiscard]] Phase phase() const { return now.phase; }
    [[nodiscard]] const std::optional<Sides>& held() const { return now.held; }
    [[nodiscard]] bool byHand() const { return now.byHand; }
    [[nodiscard]] const std::optional<Offer>& offer() const { return offered; }
    /// To compare what is held with: the offered lag, or the measured one beside a lag by hand.
    [[nodiscard]] std::optional<Sides> besideHeld() const;

    /// What has to be saved, and put back: a reopened session is frozen and silent about it.
    struct State
    {
        Phase phase = Phase::measuring;
        std::optional<Sides> held; ///< none: nothing has been taken yet, the spot passes as recorded
        bool byHand = false;
        double confidence = 0.0;        ///< of the report it was taken from; 0 by hand
        std::optional<Verdict> verdict; ///< of that report; none by hand
        /// The report that is told beside it: the one it was taken from, or by hand, that of the measured lag it
        /// stands beside. Null where nothing was measured.
        std::shared_ptr<const Report> told;

        bool operator==(const State&) const = default;
    };
    [[nodiscard]] const State& state() const { return now; }
    /// What is held is frozen from then on, whatever the phase was when it was saved.
    void restore(const State& saved, const History<State>& savedHistory);
    /// The same as an act of the user: undo goes back before it.
    void replace(const State& wanted, const std::string& what, const Beside& beside);

    [[nodiscard]] const History<State>& history() const { return steps; }
    /// Before an act that changes other things than what is held: undo brings them back too.
    void remember(const std::string& what, const Beside& beside) { steps.remember(what, comeBack(), beside); }
    /// One step back; redo: forward. `current`: what stands beside now, for the way back. None: no such step.
    std::optional<Beside> undo(const Beside& current);
    std::optional<Beside> redo(const Beside& current);

private:
    [[nodiscard]] State comeBack() const;
    [[nodiscard]] bool mayFreeze(const Report& report, const FollowRules& rules) const;
    void hold(const Sides& found, std::shared_ptr<const Report> from);
    bool propose(Offer::Why why, const Sides& found, const Report& report);
    bool withdraw();
    std::optional<Beside> arrive(std::optional<History<State>::Step> step);

    State now;
    History<State> steps;
    std::optional<Offer> offered;
    std::optional<Sides> dismissed;
    bool followed = false; // something has been taken since measuring began: later moves are the same step of undo
};
} // namespace tarry
