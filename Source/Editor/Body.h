#pragma once
#include "Editor/Acts.h"
#include "Editor/BlendControl.h"
#include "Editor/EditorTarget.h"
#include "Editor/FiguresPanel.h"
#include "Editor/Heading.h"
#include "Editor/HearControl.h"
#include "Editor/HitsView.h"
#include "Editor/KeysPage.h"
#include "Editor/LagReadout.h"
#include "Editor/LanesView.h"
#include "Editor/LeanControl.h"
#include "Editor/LevelMeter.h"
#include "Editor/Look.h"
#include "Editor/OfferPanel.h"
#include "Editor/Segments.h"
#include "Editor/SetupPage.h"
#include "Editor/TrialPage.h"
#include "Editor/VerdictPanel.h"
#include "Editor/WhyPage.h"

#include <juce_gui_basics/juce_gui_basics.h>

#include <memory>

namespace tarry
{
/// All that is seen, from 640 x 400 up; whoever holds it sizes and scales it. It lays out, and passes news on to the
/// views, 30 times a second at most and only while it can be seen.
class Body : public juce::Component, private juce::Timer
{
public:
    static constexpr int leastWidth = 640, leastHeight = 400; ///< px at 100 %

    enum class Page
    {
        picture,
        why,
        setup,
        trial,
        keys
    };

    explicit Body(std::unique_ptr<EditorTarget> target);
    ~Body() override;

    /// Reads the target and updates what has changed. True when there was news.
    bool refresh();

    void setPage(Page);
    void setDark(bool);
    /// Another scale was chosen, in percent.
    std::function<void(int percent)> onScale;
    [[nodiscard]] int scalePercent() const;       ///< as chosen, else 100
    [[nodiscard]] Look& lookOf() { return look; } ///< for what the holder draws itself
    [[nodiscard]] EditorTarget& target() { return *other; }

    void paint(juce::Graphics&) override;
    void resized() override;
    bool keyPressed(const juce::KeyPress&) override;
    void visibilityChanged() override { followVisibility(); }
    void parentHierarchyChanged() override { followVisibility(); }

private:
    void timerCallback() override;
    void followVisibility();
    void update();
    void updatePicture();
    void restoreScreen();
    void holdStill(bool trialRuns);
    void stepHit(int step);
    void chooseHit(int hit);
    void keepView();
    bool pressed(juce::juce_wchar key, bool shift);
    void layOutVerdict();
    void paintCaution(juce::Graphics&) const;

    std::unique_ptr<EditorTarget> other;
    Look look{true};

    EditorModel model;
    unsigned shownReport = 0;
    bool shownOnce = false;
    Page page = Page::picture;
    int hit = -1;              ///< the hit that the lanes show; -1: the best
    juce::uint32 levelsAt = 0; ///< ms of juce::Time::getMillisecondCounter

    Heading heading;
    Segments pages;
    juce::TextButton keysButton;
    LagReadout lag;
    VerdictPanel verdict;
    OfferPanel offer;
    FiguresPanel figures;
    Acts acts;
    HearControl hear;
    LanesView lanes;
    LevelMeter spotMeter{true}, roomMeter{false};
    HitsView hits;
    WhyPage why;
    SetupPage setup;
    KeysPage keys;
    std::unique_ptr<TrialPage> trial; ///< where the target offers one
    LeanControl lean;
    BlendControl blend;

    juce::Rectangle<int> cautionArea, verdictArea;

    /// Of what a blind trial holds still, says why it does nothing. The trial's own page is not held.
    struct Tips final : juce::TooltipWindow
    {
        explicit Tips(Body& owner) : juce::TooltipWindow(&owner, 700), body(owner) {}
        juce::String getTipFor(juce::Component&) override;
        Body& body;
        bool trialRuns = false;
    };
    Tips tooltips{*this};
};
} // namespace tarry
