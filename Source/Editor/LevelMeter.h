#pragma once
#include <juce_gui_basics/juce_gui_basics.h>

namespace tarry
{
/// How loud an input is, upright, in its lane's colour: the first thing to look for is whether the side-chain arrives.
/// Follows the largest sample at once and falls slowly; a mark stays at the highest for a while, and a cap at the top
/// says that full scale was reached.
class LevelMeter : public juce::Component, public juce::SettableTooltipClient
{
public:
    /// isSpot: filled, in the spot's colour; else outlined, in the room's.
    explicit LevelMeter(bool isSpot);

    /// peak: linear, the largest sample since the last call; seconds since then.
    void update(float peak, double seconds);

    static constexpr float bottomDb = -60.0F, fallDb = 24.0F; ///< dB; dB a second
    static constexpr double holdSeconds = 2.0, clipSeconds = 3.0;
    [[nodiscard]] float shownDb() const { return level; }

    void paint(juce::Graphics&) override;

private:
    bool spot;
    float level = bottomDb, highest = bottomDb; ///< dB
    double heldFor = 0.0, clippedFor = 0.0;     ///< s left
};
} // namespace tarry
