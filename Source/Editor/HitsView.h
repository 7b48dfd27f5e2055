#pragma once
#include "Editor/EditorModel.h"
#include "Editor/TimeAxis.h"

#include <juce_gui_basics/juce_gui_basics.h>

#include <functional>
#include <optional>
#include <vector>

namespace tarry
{
/// Every hit at its own lag: a disc where it agrees, a ring where it does not, a cross where it was not used. By lag,
/// higher where it is clearer, before the evidence over all of the reach; or by time, so that a stand that was moved or
/// a drift shows. A click chooses the hit that the lanes show.
class HitsView : public juce::Component, public juce::SettableTooltipClient
{
public:
    HitsView();

    std::function<void(int hit)> onChoose; ///< index into the report's hits; -1: the best again
    std::function<void(bool byTime)> onOrder;

    /// `chosen`: the hit that the lanes show, -1: the best. `lens`: the stretch of time that they show.
    void update(const EditorModel&, int chosen, const TimeAxis& lens);
    void setByTime(bool);
    [[nodiscard]] bool isByTime() const { return byTime; }

    void paint(juce::Graphics&) override;
    void resized() override;
    void mouseMove(const juce::MouseEvent&) override;
    void mouseExit(const juce::MouseEvent&) override;
    void mouseDown(const juce::MouseEvent&) override;
    bool keyPressed(const juce::KeyPress&) override;
    void focusGained(FocusChangeType) override { repaint(); }
    void focusLost(FocusChangeType) override { repaint(); }

    /// Where a hit is drawn; none where it has no lag. The words are elsewhere.
    [[nodiscard]] std::optional<juce::Point<float>> place(int hit) const;
    [[nodiscard]] juce::Rectangle<float> plot() const;

private:
    struct Range
    {
        double least = 0.0, most = 1.0;
    };

    [[nodiscard]] TimeAxis axis() const;  ///< of lags, or of times
    [[nodiscard]] Range lagRange() const; ///< from bottom to top, by time
    [[nodiscard]] juce::String hitText(int index) const;
    [[nodiscard]] int hitAt(juce::Point<float>) const;
    void paintEvidence(juce::Graphics&, const TimeAxis&) const;
    void paintLagLine(juce::Graphics&) const;
    void paintHits(juce::Graphics&) const;
    void paintWords(juce::Graphics&) const;

    std::vector<HitReport> hits;
    Curve evidence;
    std::optional<double> lag, applied;
    double reach = 0.08, lookAhead = 0.0, lensStart = 0.0, lensLength = 0.0;
    double clearest = 30.0; ///< dB of clearness at the top of the plot
    int agreeing = 0, found = 0;
    int chosen = -1, under = -1; ///< shown by the lanes; under the mouse. -1: none
    bool byTime = false;
    juce::TextButton order;
};
} // namespace tarry
