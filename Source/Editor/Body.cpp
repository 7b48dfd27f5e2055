#include "Editor/Body.h"

#include "Editor/Words.h"

#include <array>

namespace tarry
{
namespace
{
constexpr std::array<double, 3> zooms{0.005, 0.020, 0.060}; // s

std::vector<Segments::Item> pageItems(bool withTrial)
{
    std::vector<Segments::Item> items{{"Picture", "The attack and the hits."},
                                      {"Why", "Every reason and all the figures."},
                                      {"Setup", "Reach, look-ahead, room channel, presets, recall line."}};
    if (withTrial) items.push_back({"Trial", "Blind trial: does aligning make a difference here?"});
    return items;
}

constexpr const char* trialHolds =
    "A blind trial runs: what it compares is held until its end. Answer, or stop it, on its page.";

constexpr int margin = 14, leftWidth = 200, rightX = 226, rightWidth = Body::width - margin - rightX;
} // namespace

Body::Body(std::unique_ptr<EditorTarget> processor)
    : other(std::move(processor)), transport(*other), pages("Page", pageItems(other->trial() != nullptr)),
      zoom("Zoom", {{"5 ms", "Shows 5 ms of the attack."},
                    {"20 ms", "Shows 20 ms of the attack."},
                    {"60 ms", "Shows 60 ms of the attack."}}),
      setup(*other), hear(*other), lean(*other), blend(*other)
{
    setLookAndFeel(&look);
    setTitle("Tarry");
    setOpaque(true);
    setFocusContainerType(FocusContainerType::keyboardFocusContainer);
    tooltips.setLookAndFeel(&look);

    describe(themeButton, themeButton, "Colours", "Dark or light.");
    themeButton.onClick = [this]
    {
        setDark(!look.isDark());
        other->setScreenSetting("colours", look.isDark() ? "dark" : "light");
    };

    const auto setLag = [this](double seconds, bool same) { other->setLagByHand(seconds, same); };
    lag.onLag = setLag;
    lag.onNudge = [this](double seconds) { other->nudge(seconds); };
    lag.onNudgeSamples = [this](int samples) { other->nudgeSamples(samples); };
    lag.onPolarity = [this](Polarity polarity) { other->setPolarity(polarity); };
    lag.onMeasured = [this] { other->apply(); };
    lag.onUnit = [this](LagUnit unit) { other->setScreenSetting("unit", unitName(unit)); };
    attack.onLag = setLag;
    attack.onMeasured = [this] { other->apply(); };
    attack.onHear = [this](bool aligned)
    {
        other->begin(Control::aligned);
        other->set(Control::aligned, aligned ? 1.0 : 0.0);
        other->end(Control::aligned);
    };
    verdict.onMore = [this] { setPage(Page::why); };
    pages.onChange = [this](int index) { setPage(static_cast<Page>(index)); };
    zoom.onChange = [this](int index)
    {
        setZoom(index);
        other->setScreenSetting("zoom", juce::String(index));
    };

    for (auto* child : std::initializer_list<juce::Component*>{&transport, &themeButton, &lag, &verdict, &pages, &zoom,
                                                               &attack, &hits, &hear, &lean, &blend, &lowSum})
        addAndMakeVisible(child);
    addChildComponent(why);
    addChildComponent(setup);
    if (auto* offered = other->trial())
    {
        trial = std::make_unique<TrialPage>(*offered);
        addChildComponent(*trial);
    }
    pages.choose(0);
    restoreScreen();
    setSize(width, height);
    refresh();
}

Body::~Body()
{
    tooltips.setLookAndFeel(nullptr);
    setLookAndFeel(nullptr);
}

void Body::restoreScreen()
{
    setDark(other->screenSetting("colours") != "light");
    const auto unit = other->screenSetting("unit");
    for (int i = 0; i < lagUnitCount; ++i)
        if (unit == unitName(static_cast<LagUnit>(i))) lag.setUnit(static_cast<LagUnit>(i));
    const auto saved = other->screenSetting("zoom");
    setZoom(saved.isEmpty() ? 2 : juce::jlimit(0, static_cast<int>(zooms.size()) - 1, saved.getIntValue()));
}

void Body::setDark(bool isDark)
{
    look.setDark(isDark);
    themeButton.setButtonText(isDark ? "Light" : "Dark");
    sendLookAndFeelChange();
    repaint();
}

void Body::setZoom(int index)
{
    zoom.choose(index);
    attack.setZoom(zooms[static_cast<std::size_t>(index)]);
    updateHits();
}

void Body::setPage(Page next)
{
    page = next;
    pages.choose(static_cast<int>(next));
    attack.setVisible(next == Page::picture);
    hits.setVisible(next == Page::picture);
    zoom.setVisible(next == Page::picture);
    why.setVisible(next == Page::why);
    setup.setVisible(next == Page::setup);
    if (trial) trial->setVisible(next == Page::trial);
}

void Body::followVisibility()
{
    if (isShowing())
    {
        refresh();
        startTimerHz(30);
    }
    else
        stopTimer();
}

void Body::timerCallback()
{
    if (isShowing()) refresh();
}

bool Body::refresh()
{
    auto values = other->values();
    const auto number = other->reportNumber();
    auto trialNow = other->trial() != nullptr ? other->trial()->state() : TrialValues{};
    const bool newReport = !shownOnce || number != shownReport;
    if (!newReport && values == model.values && trialNow == model.trial) return false;
    if (newReport) model.report = other->report();
    model.values = std::move(values);
    model.trial = std::move(trialNow);
    shownReport = number;
    shownOnce = true;
    update();
    return true;
}

void Body::update()
{
    holdStill(model.trial.running);
    // Each view compares with what it shows and repaints only what has changed.
    transport.update(model);
    lag.update(model);
    verdict.update(model);
    attack.update(model);
    updateHits();
    why.update(model);
    setup.update(model);
    if (trial) trial->update(model);
    hear.update(model);
    lean.update(model);
    blend.update(model);
    lowSum.update(model);
}

/// During a blind trial, what would not be heard cannot be turned: a disabled panel greys everything in it.
void Body::holdStill(bool trialRuns)
{
    if (tooltips.trialRuns == trialRuns) return;
    tooltips.trialRuns = trialRuns;
    for (auto* panel : std::initializer_list<juce::Component*>{&transport, &lag, &attack, &setup, &hear, &lean, &blend})
    {
        panel->setEnabled(!trialRuns);
        panel->repaint();
    }
}

juce::String Body::Tips::getTipFor(juce::Component& component)
{
    return trialRuns && !component.isEnabled() ? juce::String(trialHolds) : juce::TooltipWindow::getTipFor(component);
}

void Body::updateHits()
{
    hits.update(model, attack.axis());
}

void Body::paint(juce::Graphics& g)
{
    const auto& theme = look.theme();
    g.fillAll(theme.ground);
    g.setColour(theme.ink);
    g.setFont(Look::font(16.0F, true));
    Look::write(g, "Tarry", juce::Rectangle<int>(margin, 8, 56, 22), juce::Justification::centredLeft);
    g.setColour(theme.line);
    g.fillRect(margin, 299, width - 2 * margin, 1);
    g.setColour(theme.dim);
    g.setFont(Look::font(Look::small));
    Look::write(g, monitorCaution, juce::Rectangle<int>(margin, 382, width - 2 * margin, 14),
                juce::Justification::centredLeft);
}

void Body::resized()
{
    transport.setBounds(76, 8, width - margin - 76 - 58, 22);
    themeButton.setBounds(width - margin - 50, 8, 50, 22);
    lag.setBounds(margin, 38, leftWidth, 126);
    verdict.setBounds(margin, 174, leftWidth, 118);
    pages.setBounds(rightX, 40, 238, 20);
    zoom.setBounds(width - margin - 144, 40, 144, 20);
    const juce::Rectangle<int> pageArea(rightX, 66, rightWidth, 226);
    attack.setBounds(pageArea.withHeight(142));
    hits.setBounds(pageArea.withTrimmedTop(148));
    why.setBounds(pageArea);
    setup.setBounds(pageArea);
    if (trial) trial->setBounds(pageArea);
    hear.setBounds(margin, 304, leftWidth, 56);
    lean.setBounds(rightX, 304, 124, 60);
    blend.setBounds(362, 304, 132, 78);
    lowSum.setBounds(510, 304, width - margin - 510, 74);
}
} // namespace tarry
