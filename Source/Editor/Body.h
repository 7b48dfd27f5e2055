#pragma once
#include "Editor/AttackView.h"
#include "Editor/BlendControl.h"
#include "Editor/EditorTarget.h"
#include "Editor/HitsView.h"
#include "Editor/LagReadout.h"
#include "Editor/LeanControl.h"
#include "Editor/Look.h"
#include "Editor/LowSumView.h"
#include "Editor/Segments.h"
#include "Editor/SetupPage.h"
#include "Editor/Transport.h"
#include "Editor/TrialPage.h"
#include "Editor/VerdictPanel.h"
#include "Editor/WhyPage.h"

#include <juce_gui_basics/juce_gui_basics.h>

#include <memory>

namespace tarry
{
/// All that is seen, at 640 x 400; whoever holds it scales it. It lays out, and passes news on to the views, 30 times a
/// second at most and only while it can be seen.
class Body : public juce::Component, private juce::Timer
{
public:
    static constexpr int width = 640, height = 400; ///< px at 100 %

    enum class Page
    {
        picture,
        why,
        setup,
        trial
    };

    explicit Body(std::unique_ptr<EditorTarget> target);
    ~Body() override;

    /// Reads the target and updates what has changed. True when there was news.
    bool refresh();

    void setPage(Page);
    void setDark(bool);
    [[nodiscard]] Look& lookOf() { return look; } ///< for what the holder draws itself
    [[nodiscard]] EditorTarget& target() { return *other; }

    void paint(juce::Graphics&) override;
    void resized() override;
    void visibilityChanged() override { followVisibility(); }
    void parentHierarchyChanged() override { followVisibility(); }

private:
    void timerCallback() override;
    void followVisibility();
    void update();
    void updateHits();
    void restoreScreen();
    void holdStill(bool trialRuns);
    void setZoom(int index);

    std::unique_ptr<EditorTarget> other;
    Look look{true};

    EditorModel model;
    unsigned shownReport = 0;
    bool shownOnce = false;
    Page page = Page::picture;

    Transport transport;
    juce::TextButton themeButton;
    LagReadout lag;
    VerdictPanel verdict;
    Segments pages, zoom;
    AttackView attack;
    HitsView hits;
    WhyPage why;
    SetupPage setup;
    std::unique_ptr<TrialPage> trial; ///< where the target offers one
    HearControl hear;
    LeanControl lean;
    BlendControl blend;
    LowSumView lowSum;

    /// Of what a blind trial holds still, says why it does nothing.
    struct Tips final : juce::TooltipWindow
    {
        explicit Tips(juce::Component* parent) : juce::TooltipWindow(parent, 700) {}
        juce::String getTipFor(juce::Component&) override;
        bool trialRuns = false;
    };
    Tips tooltips{this};
};
} // namespace tarry
