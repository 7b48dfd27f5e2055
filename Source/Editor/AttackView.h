#pragma once
#include "Editor/EditorModel.h"
#include "Editor/TimeAxis.h"

#include <juce_gui_basics/juce_gui_basics.h>

#include <functional>
#include <optional>

namespace tarry
{
/// The attack twice over one clock: as recorded, the spot ahead and the room after it; and aligned, the spot where it
/// has waited for the room. Spot filled, room outlined, the start of each one's energy marked.
/// A click on a row hears it; in the aligned row the spot can be dragged to where it shall wait.
class AttackView : public juce::Component, public juce::SettableTooltipClient
{
public:
    AttackView();

    std::function<void(bool aligned)> onHear;
    std::function<void(double lag, bool sameGesture)> onLag; ///< by hand, seconds
    std::function<void()> onMeasured;

    void update(const EditorModel&);
    void setZoom(double seconds);
    [[nodiscard]] double zoom() const { return zoomLength; }
    /// The stretch of time on view.
    [[nodiscard]] TimeAxis axis() const;

    static constexpr int gutter = 82; ///< px left of the pictures, for words

    void paint(juce::Graphics&) override;
    bool keyPressed(const juce::KeyPress&) override;
    void mouseDown(const juce::MouseEvent&) override;
    void mouseDrag(const juce::MouseEvent&) override;
    void mouseUp(const juce::MouseEvent&) override;
    void mouseMove(const juce::MouseEvent&) override;
    void mouseDoubleClick(const juce::MouseEvent&) override;
    void focusGained(FocusChangeType) override { repaint(); }
    void focusLost(FocusChangeType) override { repaint(); }

private:
    struct Shown
    {
        bool aligned = true, hasLag = false;
        bool trialRuns = false; ///< then neither row is what is heard, and none can be chosen here
        Alignment applied;
        double lean = 0.0;
        std::optional<double> measured;
        bool operator==(const Shown&) const = default;
    };

    [[nodiscard]] juce::Rectangle<int> row(bool aligned) const;
    void paintRow(juce::Graphics&, bool aligned) const;
    void paintMarks(juce::Graphics&, juce::Rectangle<float> strip, double spotAt, double roomAt, bool aligned) const;
    void paintWave(juce::Graphics&, juce::Rectangle<float> area, const Curve&, double shift, bool turned,
                   bool filled) const;
    [[nodiscard]] double roomAt() const;
    [[nodiscard]] bool overSpot(juce::Point<int>) const;

    Shown shown;
    Curve spot, room;
    double zoomLength = 0.060; ///< s
    std::optional<double> dragFrom;
    bool dragging = false;
};
} // namespace tarry
