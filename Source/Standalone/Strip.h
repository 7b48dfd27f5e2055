#pragma once
#include "Editor/Look.h"
#include "Editor/Segments.h"
#include "Editor/ValueSlider.h"
#include "Standalone/Desk.h"

namespace tarry::standalone
{
/// What stands above the editor: the two files, play, loop and position, the speakers, print, and the one line that
/// there is to say. As wide as it is given; whoever holds it scales it.
class Strip final : public juce::Component, private juce::Timer
{
public:
    static constexpr int height = 94; ///< px at 100 %

    /// The desk outlives it.
    explicit Strip(Desk& desk);
    ~Strip() override;

    std::function<void()> onSound; ///< the sound page is asked for
    std::function<void()> onScale; ///< another scale was chosen in the editor

    void paint(juce::Graphics&) override;
    void resized() override;
    [[nodiscard]] Look& lookOf() { return look; }

private:
    /// Where it plays: drawn and turned like the editor's sliders.
    class PositionBar final : public juce::Slider
    {
    public:
        PositionBar();
        void paint(juce::Graphics&) override;
        juce::String getTextFromValue(double seconds) override;
    };

    void timerCallback() override { update(); }
    void update();
    void choose(Role role);
    void choosePrint();

    Desk& desk;
    Look look{true};
    juce::TextButton spot, room, playButton, printButton, soundButton;
    juce::ToggleButton loop{"Loop"};
    Segments source;
    PositionBar position;
    ValueSlider speakers;
    juce::String line, clock;
    bool complains = false;
    int scale = 0; ///< % that was last told of
    std::unique_ptr<juce::FileChooser> chooser;
};
} // namespace tarry::standalone
