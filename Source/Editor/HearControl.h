#pragma once
#include "Editor/EditorTarget.h"
#include "Editor/Segments.h"

namespace tarry
{
/// The A/B: as recorded or aligned, or between two lags; level-matched by choice. What is heard is the one filled
/// block on the screen.
class HearControl : public juce::Component
{
public:
    explicit HearControl(EditorTarget&);

    void update(const EditorModel&);
    void turnOver(); ///< to the other side, as the key does
    void resized() override;

private:
    void turn(Control, bool on);

    EditorTarget& target;
    Segments sides;
    juce::ToggleButton matched{"level-matched"}, twoLags{"two lags"};
};
} // namespace tarry
