#include "Editor/Body.h"

#include "Editor/TextAudit.h"
#include "Editor/Words.h"

namespace tarry
{
namespace
{
std::vector<Segments::Item> pageItems(bool withTrial)
{
    std::vector<Segments::Item> items{
        {"Picture", "The attack and the hits."},
        {"Why", "Every reason and all the figures."},
        {"Setup", "Reach, look-ahead, room channel, presets, recall line, size, colours."}};
    if (withTrial) items.push_back({"Trial", "Blind trial: does aligning make a difference here?"});
    return items;
}

constexpr const char* trialHolds =
    "A blind trial runs: what it compares is held until its end. Answer, or stop it, on its page.";

// One grid, in px at 100 %.
constexpr int margin = 8, gap = 8, gutter = 16, headHeight = 22, footHeight = 46;
constexpr int nameWidth = 46, pageWidth = 54, keysWidth = 22;
constexpr int leastColumn = 200, mostColumn = 248, mostVerdict = 176;
} // namespace

Body::Body(std::unique_ptr<EditorTarget> processor)
    : other(std::move(processor)), pages("Page", pageItems(other->trial() != nullptr)), offer(*other), acts(*other),
      hear(*other), setup(*other), keys(other->hasHost()), lean(*other), blend(*other)
{
    setLookAndFeel(&look);
    setTitle("Tarry");
    setOpaque(true);
    setWantsKeyboardFocus(true);
    tooltips.setLookAndFeel(&look);

    describe(keysButton, keysButton, "Keys", "The list of keys. Key: ?.");
    keysButton.setButtonText("?");
    keysButton.onClick = [this] { setPage(page == Page::keys ? Page::picture : Page::keys); };

    const auto setLag = [this](double seconds, bool same) { other->setLagByHand(seconds, same); };
    lag.onLag = setLag;
    lag.onNudge = [this](double seconds) { other->nudge(seconds); };
    lag.onNudgeSamples = [this](int samples) { other->nudgeSamples(samples); };
    lag.onPolarity = [this](Polarity polarity) { other->setPolarity(polarity); };
    lag.onMeasured = [this] { acts.press("Apply"); };
    lag.onUnit = [this](LagUnit unit)
    {
        lanes.setDistanceUnit(unit == LagUnit::feet ? LagUnit::feet : LagUnit::metres);
        other->setScreenSetting("unit", unitName(unit));
    };
    lanes.onLag = [this, setLag](double seconds, bool same)
    {
        setLag(seconds, same);
        refresh(); // the sum follows the hand, not the timer
    };
    lanes.onMeasured = [this] { acts.press("Apply"); };
    lanes.onStep = [this](int step) { stepHit(step); };
    lanes.onView = [this] { keepView(); };
    hits.onChoose = [this](int wanted) { chooseHit(wanted); };
    hits.onOrder = [this](bool byTime) { other->setScreenSetting("hits", byTime ? "time" : "lag"); };
    verdict.onMore = [this] { setPage(Page::why); };
    pages.onChange = [this](int index) { setPage(static_cast<Page>(index)); };
    setup.onColours = [this](bool isDark)
    {
        setDark(isDark);
        other->setScreenSetting("colours", isDark ? "dark" : "light");
    };
    setup.onScale = [this](int wanted)
    {
        other->setScreenSetting("scale", juce::String(wanted));
        if (onScale) onScale(wanted);
    };

    // In the order of reading, which is the order of Tab.
    for (auto* child :
         std::initializer_list<juce::Component*>{&heading, &pages, &keysButton, &lag, &verdict, &offer, &figures, &acts,
                                                 &spotMeter, &roomMeter, &lanes, &hits, &hear, &lean, &blend})
        addAndMakeVisible(child);
    offer.setVisible(false);
    addChildComponent(why);
    addChildComponent(setup);
    addChildComponent(keys);
    if (auto* offered = other->trial())
    {
        trial = std::make_unique<TrialPage>(*offered);
        addChildComponent(*trial);
    }
    pages.choose(0);
    setSize(leastWidth, leastHeight);
    restoreScreen();
    refresh();
}

Body::~Body()
{
    tooltips.setLookAndFeel(nullptr);
    setLookAndFeel(nullptr);
}

int Body::scalePercent() const
{
    const int saved = other->screenSetting("scale").getIntValue();
    return SetupPage::isScale(saved) ? saved : 100;
}

void Body::restoreScreen()
{
    setDark(other->screenSetting("colours") != "light");
    const auto unit = other->screenSetting("unit");
    for (int i = 0; i < lagUnitCount; ++i)
        if (unit == unitName(static_cast<LagUnit>(i))) lag.setUnit(static_cast<LagUnit>(i));
    hits.setByTime(other->screenSetting("hits") == "time");
    if (const auto view = other->screenSetting("view").getDoubleValue(); view > 0.0) lanes.setLength(view * 1e-3);
    setup.showScreen(look.isDark(), scalePercent());
}

void Body::setDark(bool isDark)
{
    look.setDark(isDark);
    setup.showScreen(isDark, scalePercent());
    sendLookAndFeelChange();
    repaint();
}

void Body::keepView()
{
    hits.update(model, hit, lanes.axis());
    const auto length = juce::String(lanes.length() * 1e3, 2);
    if (shownOnce && other->screenSetting("view") != length) other->setScreenSetting("view", length);
}

void Body::setPage(Page next)
{
    page = next;
    pages.choose(static_cast<int>(next)); // none of them for the keys
    keysButton.setToggleState(next == Page::keys, juce::dontSendNotification);
    for (auto* part : std::initializer_list<juce::Component*>{&lanes, &hits, &spotMeter, &roomMeter})
        part->setVisible(next == Page::picture);
    why.setVisible(next == Page::why);
    setup.setVisible(next == Page::setup);
    keys.setVisible(next == Page::keys);
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
    if (!isShowing()) return;
    const auto now = juce::Time::getMillisecondCounter();
    const double seconds = levelsAt == 0 ? 0.03 : 1e-3 * (now - levelsAt);
    levelsAt = now;
    const auto levels = other->takeLevels();
    spotMeter.update(levels.spot, seconds);
    roomMeter.update(levels.room, seconds);
    refresh();
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
    update();
    shownOnce = true;
    return true;
}

void Body::update()
{
    holdStill(model.trial.running);
    if (hit >= static_cast<int>(model.report.hits.size())) hit = -1; // measuring has begun anew
    // Each view compares with what it shows and repaints only what has changed.
    heading.update(model);
    lag.update(model);
    verdict.update(model);
    if (const bool offers = offer.update(model); offers != offer.isVisible())
    {
        if (!offers) handOnFocus(offer);
        offer.setVisible(offers);
        layOutVerdict();
    }
    figures.update(model);
    acts.update(model);
    updatePicture();
    why.update(model);
    setup.update(model);
    if (trial) trial->update(model);
    hear.update(model);
    lean.update(model);
    blend.update(model);
}

void Body::updatePicture()
{
    lanes.update(model, hit);
    hits.update(model, hit, lanes.axis());
}

void Body::chooseHit(int wanted)
{
    hit = wanted;
    updatePicture();
}

void Body::stepHit(int step)
{
    const int count = static_cast<int>(model.report.hits.size());
    if (count == 0) return;
    chooseHit(hit < 0 ? (step > 0 ? 0 : count - 1) : juce::jlimit(0, count - 1, hit + step));
}

/// During a blind trial, what would not be heard cannot be turned: a disabled panel greys everything in it.
void Body::holdStill(bool trialRuns)
{
    if (tooltips.trialRuns == trialRuns) return;
    tooltips.trialRuns = trialRuns;
    for (auto* panel : std::initializer_list<juce::Component*>{&acts, &lag, &lanes, &setup, &hear, &lean, &blend})
    {
        enable(*panel, !trialRuns);
        panel->repaint();
    }
}

juce::String Body::Tips::getTipFor(juce::Component& component)
{
    const bool ofTrial = body.trial && body.trial->isParentOf(&component);
    return trialRuns && !component.isEnabled() && !ofTrial ? juce::String(trialHolds)
                                                           : juce::TooltipWindow::getTipFor(component);
}

// -------------------------------------------------------------------------------------------------------- keys

/// Keys that no control has used before they came here.
bool Body::keyPressed(const juce::KeyPress& key)
{
    const auto modifiers = key.getModifiers();
    if (modifiers.isCommandDown() || modifiers.isAltDown() || modifiers.isCtrlDown()) return false;
    if (key == juce::KeyPress::escapeKey)
    {
        if (page != Page::picture)
            setPage(Page::picture);
        else
            chooseHit(-1);
        return true;
    }
    if (trial && trial->isVisible() && trial->press(key)) return true;
    const auto typed = juce::CharacterFunctions::toLowerCase(key.getTextCharacter());
    return pressed(typed, modifiers.isShiftDown());
}

bool Body::pressed(juce::juce_wchar key, bool shift)
{
    const auto act = [&](const char* title) { acts.press(title); };
    switch (key)
    {
    case 'a':
        hear.turnOver();
        return true;
    case 'b':
        blend.turnOver();
        return true;
    case 'f':
        act("Freeze");
        return true;
    case 'm':
        act("Measure");
        return true;
    case 'p':
        act("Apply");
        return true;
    case 'l':
        act("Lock");
        return true;
    case 'o':
        offer.press();
        return true;
    case 'z':
        act(shift ? "Redo" : "Undo");
        return true;
    case 'h':
        hits.setByTime(!hits.isByTime());
        hits.onOrder(hits.isByTime());
        return true;
    case '+':
    case '=':
        lanes.zoom(0.7);
        return true;
    case '-':
        lanes.zoom(1.0 / 0.7);
        return true;
    case '0':
        lanes.fit();
        return true;
    case ',':
    case '.':
        lanes.scroll((key == '.' ? 0.2 : -0.2) * lanes.axis().length);
        return true;
    case '?':
        setPage(page == Page::keys ? Page::picture : Page::keys);
        return true;
    default:
        return false;
    }
}

// ------------------------------------------------------------------------------------------------------ layout

void Body::paint(juce::Graphics& g)
{
    const auto& theme = look.theme();
    g.fillAll(theme.ground);
    g.setColour(theme.ink);
    g.setFont(Look::font(Look::heading, true));
    Look::write(g, "Tarry", juce::Rectangle<int>(margin, 5, nameWidth, headHeight), juce::Justification::centredLeft);
    paintCaution(g);
}

void Body::paintCaution(juce::Graphics& g) const
{
    const auto words = Look::paragraph(monitorCaution, cautionArea.getWidth(), look.theme().dim);
    TextAudit::noteLines(monitorCaution, words.getHeight(), cautionArea.toFloat());
    words.draw(
        g, cautionArea.toFloat().withSizeKeepingCentre(static_cast<float>(cautionArea.getWidth()), words.getHeight()));
}

/// The verdict makes place for an offer.
void Body::layOutVerdict()
{
    auto area = verdictArea;
    if (offer.isVisible())
    {
        offer.setBounds(area.removeFromBottom(OfferPanel::height));
        area.removeFromBottom(4);
    }
    verdict.setBounds(area);
}

void Body::resized()
{
    auto area = getLocalBounds().reduced(margin, 0).withTrimmedTop(5).withTrimmedBottom(6);
    auto head = area.removeFromTop(headHeight);
    head.removeFromLeft(nameWidth + gap);
    keysButton.setBounds(head.removeFromRight(keysWidth));
    head.removeFromRight(3);
    pages.setBounds(head.removeFromRight(pageWidth * (trial ? 4 : 3)));
    heading.setBounds(head.withTrimmedRight(gap));
    area.removeFromTop(6);

    const int column = juce::jlimit(leastColumn, mostColumn, getWidth() * 24 / 100);
    auto foot = area.removeFromBottom(footHeight);
    area.removeFromBottom(6);
    auto left = area.removeFromLeft(column);
    area.removeFromLeft(gap);

    lag.setBounds(left.removeFromTop(LagReadout::height));
    // Above what there is to know, below what there is to do: the acts, and the A/B beneath them.
    left.removeFromTop(7);
    acts.setBounds(left.removeFromBottom(Acts::height));
    left.removeFromBottom(7);
    verdictArea = left.removeFromTop(juce::jmin(mostVerdict, left.getHeight()));
    left.removeFromTop(7);
    figures.setBounds(left);
    figures.setVisible(figures.rowsThatFit() > 1);
    layOutVerdict();

    const auto picture = area;
    const int hitsHeight = juce::jlimit(66, 170, area.getHeight() * 22 / 100);
    const auto meters = area.removeFromLeft(gutter).withWidth(10);
    hits.setBounds(area.removeFromBottom(hitsHeight));
    area.removeFromBottom(4);
    lanes.setBounds(area);
    const auto meterAt = [&](LanesView::Lane lane)
    { return lanes.lane(lane).translated(0, area.getY()).withX(meters.getX()).withWidth(meters.getWidth()); };
    spotMeter.setBounds(meterAt(LanesView::Lane::spot));
    roomMeter.setBounds(meterAt(LanesView::Lane::room));
    for (auto* each : std::initializer_list<juce::Component*>{&why, &setup, &keys, trial.get()})
        if (each != nullptr) each->setBounds(picture.withTrimmedLeft(gutter / 2));

    hear.setBounds(foot.removeFromLeft(column));
    foot.removeFromLeft(gap + gutter);
    const int wide = juce::jlimit(0, 100, (getWidth() - leastWidth) / 4);
    constexpr int footGap = 5; // every pixel counts at 640
    lean.setBounds(foot.removeFromLeft(118 + wide));
    foot.removeFromLeft(footGap);
    blend.setBounds(foot.removeFromLeft(142 + wide));
    foot.removeFromLeft(footGap);
    cautionArea = foot.removeFromRight(juce::jmin(foot.getWidth(), 300));
}
} // namespace tarry
