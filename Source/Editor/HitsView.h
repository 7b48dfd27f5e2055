#pragma once
#include "Editor/EditorModel.h"
#include "Editor/TimeAxis.h"

#include <juce_gui_basics/juce_gui_basics.h>

#include <optional>
#include <vector>

namespace tarry
{
/// Every hit at its own lag, higher where it is clearer: a disc where it agrees, a ring where it does not, a cross
/// where it was not used. Behind them the evidence over all of the reach; under them the stretch that the attack
/// picture shows.
class HitsView : public juce::Component, public juce::SettableTooltipClient
{
public:
    HitsView();

    /// `lens`: the stretch that the attack picture shows.
    void update(const EditorModel&, const TimeAxis& lens);

    void paint(juce::Graphics&) override;
    void mouseMove(const juce::MouseEvent&) override;
    void mouseExit(const juce::MouseEvent&) override;
    bool keyPressed(const juce::KeyPress&) override;
    void focusGained(FocusChangeType) override { repaint(); }
    void focusLost(FocusChangeType) override;

private:
    [[nodiscard]] TimeAxis axis() const;
    [[nodiscard]] juce::Rectangle<float> plot() const;
    [[nodiscard]] juce::Point<float> place(const HitReport&) const;
    [[nodiscard]] juce::String hitText(int index) const;
    void pick(int index);

    std::vector<HitReport> hits;
    Curve evidence;
    std::optional<double> lag, secondCluster;
    double reach = 0.08, lookAhead = 0.0, lensStart = 0.0, lensLength = 0.0;
    double clearest = 30.0; ///< dB of clarity at the top of the plot
    int agreeing = 0;
    int picked = -1; ///< under the mouse or chosen by key; -1 none
};
} // namespace tarry
