#pragma once
#include "Editor/EditorModel.h"
#include "Editor/TimeAxis.h"
#include "Editor/Waves.h"
#include "Editor/Words.h"

#include <juce_gui_basics/juce_gui_basics.h>

#include <functional>
#include <optional>

namespace tarry
{
/// One hit in three lanes over one clock: the spot, the room, and the sum of both, as recorded against as set. What is
/// heard now is filled. Between spot and room lies a rule on which the wait is marked. The spot is dragged to where it
/// shall wait; wheel and drag zoom and scroll.
class LanesView : public juce::Component, public juce::SettableTooltipClient
{
public:
    LanesView();

    std::function<void(double lag, bool sameGesture)> onLag; ///< by hand, seconds
    std::function<void()> onMeasured;                        ///< the measured lag again
    std::function<void(int step)> onStep;                    ///< to the next hit, or the one before
    std::function<void()> onView;                            ///< another stretch of time is on view

    /// hit: the chosen one of the report's, -1: the best.
    void update(const EditorModel&, int hit);

    /// The stretch of time on view.
    [[nodiscard]] TimeAxis axis() const;
    /// Around a time (the middle of the view where there is none): less than 1 shows less of it.
    void zoom(double factor, std::optional<double> around = {});
    void scroll(double seconds);
    void fit();                          ///< both attacks in view
    void setLength(double seconds);      ///< 0: fit
    [[nodiscard]] double length() const; ///< 0: fit
    /// The way that sound goes stands below the time, where there is room for it: in metres or in feet.
    void setDistanceUnit(LagUnit);
    /// What the sum gains and loses, as it stands there.
    [[nodiscard]] const std::optional<BlendFigures>& figures() const { return sumNow; }

    static constexpr double shortest = 0.001; ///< s on view

    void paint(juce::Graphics&) override;
    void resized() override;
    bool keyPressed(const juce::KeyPress&) override;
    void mouseDown(const juce::MouseEvent&) override;
    void mouseDrag(const juce::MouseEvent&) override;
    void mouseUp(const juce::MouseEvent&) override;
    void mouseMove(const juce::MouseEvent&) override;
    void mouseDoubleClick(const juce::MouseEvent&) override;
    void mouseWheelMove(const juce::MouseEvent&, const juce::MouseWheelDetails&) override;
    void mouseMagnify(const juce::MouseEvent&, float scale) override;
    void focusGained(FocusChangeType) override { repaint(); }
    void focusLost(FocusChangeType) override { repaint(); }

    enum class Lane
    {
        spot,
        room,
        sum
    };
    [[nodiscard]] juce::Rectangle<int> lane(Lane) const;
    /// The rule between spot and room.
    [[nodiscard]] juce::Rectangle<int> waitRow() const;
    /// Where the spot can be grabbed: its lane, and its wait.
    [[nodiscard]] bool isOfSpot(juce::Point<int> at) const
    {
        return lane(Lane::spot).contains(at) || waitRow().contains(at);
    }

private:
    /// Everything that is drawn but for the waveforms.
    struct Shown
    {
        bool asSetIsHeard = true, hasLag = false, trialRuns = false, spotIsLate = false;
        Alignment held, asSet;
        std::optional<double> arrival; ///< s, where the room's attack was measured to be
        double roomGain = 1.0;
        int hit = -1, hitsFound = 0;
        juce::String hitName;
        InputState input = InputState::good;
        double temperature = 20.0; ///< degrees C
        LagUnit distance = LagUnit::metres;
        bool operator==(const Shown&) const = default;
    };

    [[nodiscard]] bool setIsHeard() const { return shown.asSetIsHeard && shown.hasLag; }
    [[nodiscard]] TimeAxis fitting() const;
    void show(double start, double length);
    [[nodiscard]] bool hasDistance() const;
    [[nodiscard]] juce::Rectangle<float> waveArea(Lane) const;
    void takeSums();
    void paintSpot(juce::Graphics&) const;
    void paintRoom(juce::Graphics&) const;
    void paintSum(juce::Graphics&) const;
    void paintLines(juce::Graphics&) const;
    void paintMarks(juce::Graphics&) const;
    void paintWait(juce::Graphics&) const;
    void paintAxis(juce::Graphics&) const;
    void writeOver(juce::Graphics&, const juce::String&, juce::Rectangle<float>, juce::Justification, juce::Colour,
                   bool bold = false) const;
    void nameLane(juce::Graphics&, Lane, const juce::String& name, juce::Colour, const juce::String& more) const;

    Shown shown;
    Waves waves;
    std::vector<float> sumAsRecorded, sumAsSet;
    std::optional<BlendFigures> sumNow;
    float spotPeak = 0.0F, roomPeak = 0.0F;
    std::optional<TimeAxis> chosenView; ///< its start and length; none: fit
    std::optional<double> lagAtGrab, startAtGrab;
    bool dragging = false;
};
} // namespace tarry
