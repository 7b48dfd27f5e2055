#pragma once
#include "Editor/EditorModel.h"
#include "Editor/Words.h"

#include <juce_gui_basics/juce_gui_basics.h>

#include <functional>
#include <memory>
#include <optional>

namespace tarry
{
/// The lag, large, in the unit the user thinks in, the unit always beside it; and the lag by hand: typed, dragged or
/// nudged by a step of that unit. Polarity below it.
class LagReadout : public juce::Component, public juce::SettableTooltipClient
{
public:
    LagReadout();

    /// Asked for by hand. Lags in seconds, not yet limited to what the delay can do.
    std::function<void(double lag, bool sameGesture)> onLag;
    std::function<void(double seconds)> onNudge;
    std::function<void(int samples)> onNudgeSamples; ///< where samples are shown
    std::function<void(Polarity)> onPolarity;
    std::function<void()> onMeasured; ///< the measured lag and polarity again
    std::function<void(LagUnit)> onUnit;

    void update(const EditorModel&);
    void setUnit(LagUnit);
    [[nodiscard]] LagUnit unit() const { return shownUnit; }

    /// Opens the field in which a lag is typed, with `start` in it.
    void beginEntry(const juce::String& start);
    [[nodiscard]] bool isEntering() const { return entry != nullptr; }
    void paint(juce::Graphics&) override;
    void resized() override;
    bool keyPressed(const juce::KeyPress&) override;
    void mouseDown(const juce::MouseEvent&) override;
    void mouseDrag(const juce::MouseEvent&) override;
    void mouseUp(const juce::MouseEvent&) override;
    void mouseDoubleClick(const juce::MouseEvent&) override;
    void enablementChanged() override { repaint(); }
    void focusGained(FocusChangeType) override { repaint(); }
    void focusLost(FocusChangeType) override { repaint(); }
    static constexpr int height = 126; ///< px
    std::unique_ptr<juce::AccessibilityHandler> createAccessibilityHandler() override;

private:
    struct Shown
    {
        EditorValues values;
        std::optional<double> measured; ///< where it is worth telling
        bool operator==(const Shown&) const = default;
    };

    void endEntry(bool accept);
    void accept(const juce::String& typed);
    void nudge(int steps);
    [[nodiscard]] LagScale scale() const;
    [[nodiscard]] juce::Rectangle<int> digitsArea() const;
    [[nodiscard]] juce::String secondLine() const;
    void refresh();

    Shown shown;
    juce::String caption;
    LagUnit shownUnit = LagUnit::ms;
    juce::String problem;           ///< what was wrong with the last thing typed
    std::optional<double> dragFrom; ///< s, the lag where a drag began
    bool dragging = false;

    juce::TextButton unitButton, polarityButton, earlier, later;
    std::unique_ptr<juce::TextEditor> entry;
};
} // namespace tarry
