#include "Editor/Body.h"

#include "Editor/Screen.h"
#include "Editor/TextAudit.h"

using namespace tarry;
using namespace tarry::test;

namespace
{
/// Every line that a component writes: away from its other lines, from its children, and inside.
void checkLines(juce::Component& component, const std::string& when)
{
    constexpr float slack = 1.5F; // px: lines are as high as their font, letters are not
    juce::Image image(juce::Image::RGB, component.getWidth(), component.getHeight(), true, juce::SoftwareImageType());
    juce::Graphics g(image);
    TextAudit audit;
    component.paint(g); // without its children: every line is in its own coordinates
    for (std::size_t i = 0; i < audit.written.size(); ++i)
    {
        const auto& line = audit.written[i];
        const auto area = line.area.reduced(0.0F, slack);
        INFO(when << ": \"" << line.text << "\" at " << line.area.toString() << " in " << component.getTitle());
        CHECK(component.getLocalBounds().toFloat().expanded(0.5F).contains(area));
        for (std::size_t k = 0; k < i; ++k)
        {
            INFO("and \"" << audit.written[k].text << "\" at " << audit.written[k].area.toString());
            CHECK_FALSE(area.intersects(audit.written[k].area.reduced(0.0F, slack)));
        }
        for (const auto* child : component.getChildren())
        {
            const auto* label = dynamic_cast<const juce::Label*>(child); // a box has an empty one under its own words
            if (!child->isVisible() || (label != nullptr && label->getText().isEmpty())) continue;
            INFO("and " << child->getTitle() << " at " << child->getBounds().toString());
            CHECK_FALSE(area.intersects(child->getBounds().toFloat()));
        }
    }
}

juce::String fileName(const std::string& model)
{
    return juce::String(model).retainCharacters("abcdefghijklmnopqrstuvwxyz0123456789 ").replace(" ", "-");
}

/// What a component writes by itself.
juce::StringArray linesOf(juce::Component& component)
{
    juce::Image image(juce::Image::RGB, component.getWidth(), component.getHeight(), true, juce::SoftwareImageType());
    juce::Graphics g(image);
    TextAudit audit;
    component.paint(g);
    juce::StringArray lines;
    for (const auto& line : audit.written) lines.add(line.text);
    return lines;
}

/// The largest difference of a channel, 0 to 1.
float difference(juce::Colour a, juce::Colour b)
{
    return juce::jmax(std::abs(a.getFloatRed() - b.getFloatRed()), std::abs(a.getFloatGreen() - b.getFloatGreen()),
                      std::abs(a.getFloatBlue() - b.getFloatBlue()));
}
} // namespace

TEST_CASE("Body: in no state, unit, theme or size is any text cut", "[editor]")
{
    for (const auto& [name, model] : madeUpModels())
        for (const auto& [width, height] : sizes)
            for (int page = 0; page < pageCount; ++page)
            {
                Screen screen(model);
                screen.body->setSize(width, height);
                screen.body->setPage(static_cast<Body::Page>(page));
                for (int unit = 0; unit < lagUnitCount; ++unit)
                {
                    if (unit != 0 && (page != 0 || width != 640)) continue; // they move no word against its place
                    find<LagReadout>(*screen.body, "Lag")->setUnit(static_cast<LagUnit>(unit));
                    TextAudit audit;
                    const auto image = screen.picture(1.0F);
                    INFO(name << ", page " << pageNames[page] << ", unit " << unit << ", " << width << " x " << height
                              << ": " << audit.cut.joinIntoString("; "));
                    CHECK(audit.cut.isEmpty());
                    CHECK(audit.lines > 10);
                    if (unit == 0)
                        keepPicture(image, fileName(name) + "." + pageNames[page] + "." + juce::String(width));
                }
            }
}

TEST_CASE("Body: at every scale that can be chosen, in both themes, no text is cut", "[editor]")
{
    for (const auto* name : {"longest, each side", "frozen", "leave", "unsure, long reasons"})
        for (const int percent : {75, 100, 125, 150, 175, 200})
            for (const bool dark : {true, false})
            {
                Screen screen(madeUpModel(name));
                screen.body->setDark(dark);
                CHECK(SetupPage::isScale(percent));
                TextAudit audit;
                const auto image = screen.picture(static_cast<float>(percent) * 0.01F);
                INFO(name << ", " << percent << " %: " << audit.cut.joinIntoString("; "));
                CHECK(audit.cut.isEmpty());
                keepPicture(image, fileName(name) + (dark ? ".dark." : ".light.") + juce::String(percent));
            }
}

TEST_CASE("Body: the picture takes at least half of the window", "[editor]")
{
    Screen screen(madeUpModel("settled"));
    for (int width = 640; width <= 3840; width += 160)
        for (int height = 400; height <= 2160; height += 160)
        {
            screen.body->setSize(width, height);
            const auto picture = find<LanesView>(*screen.body, "Attack picture")
                                     ->getBounds()
                                     .getUnion(find<HitsView>(*screen.body, "Hits")->getBounds())
                                     .getUnion(find<LevelMeter>(*screen.body, "Spot level")->getBounds());
            const double share = static_cast<double>(picture.getWidth()) * picture.getHeight() / (width * height);
            INFO(width << " x " << height << ": share " << share << ", at least 0.5");
            CHECK(share >= 0.5);
        }
}

TEST_CASE("Body: no words of the picture are cut, at any zoom and lean", "[editor]")
{
    for (const auto& [name, model] : madeUpModels())
        for (const double length : {0.0, 0.001, 0.005, 0.06, 0.5})
            for (const double lean : {-0.02, -0.0003, 0.0, 0.002, 0.03})
            {
                Screen screen(model);
                screen.target->model.values.controls.lean = lean;
                screen.body->refresh();
                find<LanesView>(*screen.body, "Attack picture")->setLength(length);
                TextAudit audit;
                const auto image = screen.picture(1.0F);
                INFO(name << ", " << length << " s on view, lean " << lean << ": " << audit.cut.joinIntoString("; "));
                CHECK(audit.cut.isEmpty());
            }
}

TEST_CASE("Body: no line of text touches another, a control or the edge, at any zoom and lean", "[editor]")
{
    for (const auto& [name, model] : madeUpModels())
    {
        Screen screen(model);
        const auto look = [&](const std::string& when)
        {
            checkLines(*screen.body, name + ", " + when);
            eachVisible(*screen.body, [&](juce::Component& c) { checkLines(c, name + ", " + when); });
        };
        for (const double length : {0.0, 0.005, 0.06})
            for (const double lean : {-0.02, -0.0003, 0.0, 0.00803651, 0.03})
            {
                screen.target->model.values.controls.lean = lean;
                screen.body->refresh();
                find<LanesView>(*screen.body, "Attack picture")->setLength(length);
                look(std::to_string(length) + " s on view, lean " + std::to_string(lean));
            }
        for (const auto& [width, height] : sizes)
            for (int page = 0; page < pageCount; ++page)
            {
                screen.body->setSize(width, height);
                screen.body->setPage(static_cast<Body::Page>(page));
                look(std::string(pageNames[page]) + ", " + std::to_string(width) + " wide");
            }
    }
}

TEST_CASE("Body: nothing overlaps its neighbours or leaves its parent", "[editor]")
{
    for (const auto& [name, model] : madeUpModels())
        for (int at = 0; at < 3 * pageCount; ++at)
        {
            const int page = at % pageCount;
            Screen screen(model);
            screen.body->setSize(sizes[at / pageCount].first, sizes[at / pageCount].second);
            screen.body->setPage(static_cast<Body::Page>(page));
            const auto check = [&, &label = name](juce::Component& parent)
            {
                if (dynamic_cast<juce::Viewport*>(parent.getParentComponent()) != nullptr ||
                    dynamic_cast<juce::Viewport*>(&parent) != nullptr)
                    return; // scrolls
                const auto& children = parent.getChildren();
                for (int i = 0; i < children.size(); ++i)
                {
                    if (!children[i]->isVisible()) continue;
                    INFO(label << ", " << pageNames[page] << ": " << children[i]->getTitle() << " "
                               << children[i]->getBounds().toString());
                    CHECK_FALSE(children[i]->getBounds().isEmpty());
                    CHECK(parent.getLocalBounds().contains(children[i]->getBounds()));
                    for (int j = i + 1; j < children.size(); ++j)
                    {
                        if (!children[j]->isVisible()) continue;
                        INFO("and " << children[j]->getTitle() << " " << children[j]->getBounds().toString());
                        CHECK_FALSE(children[i]->getBounds().intersects(children[j]->getBounds()));
                    }
                }
            };
            check(*screen.body);
            eachVisible(*screen.body, check);
        }
}

TEST_CASE("Body: every control has a name, a tooltip and the keyboard", "[editor]")
{
    int controls = 0;
    auto model = madeUpModel("unsure, long reasons");
    for (const bool trialRuns : {false, true})
        for (int page = 0; page < pageCount; ++page)
        {
            model.trial.running = trialRuns;
            Screen screen(model);
            screen.body->setPage(static_cast<Body::Page>(page));
            eachVisible(*screen.body,
                        [&](juce::Component& c)
                        {
                            if (!isControl(c)) return;
                            if (dynamic_cast<juce::ScrollBar*>(c.getParentComponent()) != nullptr) return;
                            ++controls;
                            INFO("\"" << c.getTitle() << "\" at " << c.getBounds().toString() << " on page "
                                      << pageNames[page]);
                            CHECK(c.getTitle().isNotEmpty());
                            CHECK((c.getWantsKeyboardFocus() || !c.isEnabled()));
                            auto* tip = dynamic_cast<juce::TooltipClient*>(&c);
                            REQUIRE(tip != nullptr);
                            CHECK(tip->getTooltip().isNotEmpty());
                            CHECK((c.getDescription().isNotEmpty() || c.getHelpText().isNotEmpty()));
                        });
        }
    CHECK(controls > 100);
}

TEST_CASE("Body: without news nothing is asked for and nothing is updated", "[editor]")
{
    Screen screen(madeUpModel("settled"));
    const int copied = screen.target->reportsCopied;
    for (int i = 0; i < 10; ++i) CHECK_FALSE(screen.body->refresh());
    CHECK(screen.target->reportsCopied == copied);
    screen.target->model.values.controls.lean = 0.003;
    CHECK(screen.body->refresh());
    CHECK(screen.target->reportsCopied == copied); // values alone do not copy the report
    ++screen.target->number;
    CHECK(screen.body->refresh());
    CHECK(screen.target->reportsCopied == copied + 1);
    CHECK_FALSE(screen.body->refresh());
}

TEST_CASE("LagReadout: typed, nudged, turned over, and back to the measured lag", "[editor]")
{
    Screen screen(madeUpModel("settled"));
    auto& lag = *find<LagReadout>(*screen.body, "Lag");
    auto& asked = screen.target->asked;
    const auto press = [&](const juce::KeyPress& key) { return lag.keyPressed(key); };

    CHECK(press(juce::KeyPress(juce::KeyPress::rightKey)));
    CHECK(asked.back() == "lag 0.031094");
    screen.body->refresh();
    CHECK(press(juce::KeyPress(juce::KeyPress::leftKey, juce::ModifierKeys::shiftModifier, 0)));
    CHECK(asked.back() == "lag 0.030994"); // ten steps of 0.01 ms
    screen.body->refresh();
    CHECK(press(juce::KeyPress(juce::KeyPress::deleteKey)));
    CHECK(asked.back() == "apply");

    // The steps are of the unit that is shown, and say so.
    CHECK(find<juce::TextButton>(lag, "Later")->getButtonText() == "+0.01 ms");
    CHECK(press(juce::KeyPress('u', 0, 'u')));
    CHECK(lag.unit() == LagUnit::samples);
    CHECK(screen.target->screen["unit"] == "samples");
    CHECK(find<juce::TextButton>(lag, "Later")->getButtonText() == "+1 smp");
    find<juce::TextButton>(lag, "Earlier")->onClick();
    CHECK(asked.back() == "lag 0.030973"); // 30.994 ms less a sample of 48 kHz, 0.0208 ms
    screen.body->refresh();

    const auto type = [&](const juce::String& text)
    {
        lag.beginEntry(text);
        REQUIRE(lag.isEntering());
        auto* field = find<juce::TextEditor>(lag, "Type a lag");
        field->onReturnKey();
        CHECK_FALSE(lag.isEntering());
    };
    type("35 ft");
    CHECK(asked.back() == "lag 0.031084");
    const auto before = asked.size();
    type("thirty");
    CHECK(asked.size() == before);
    CHECK(linesOf(lag).contains("Not a lag: type 31.08 or 35 ft"));
    lag.setUnit(LagUnit::ms);
    type("900");
    CHECK(asked.size() == before);
    CHECK(linesOf(lag).contains("longest is 200.00 ms"));
    find<juce::TextButton>(*screen.body, "Polarity")->onClick();
    CHECK(asked.back() == "polarity inverted");
}

TEST_CASE("ValueSlider: keys are one gesture each, and Delete returns to the default", "[editor]")
{
    Screen screen(madeUpModel("settled"));
    auto& lean = *find<ValueSlider>(*screen.body, "Lean");
    auto& asked = screen.target->asked;
    CHECK(lean.keyPressed(juce::KeyPress(juce::KeyPress::upKey)));
    CHECK(asked == std::vector<std::string>{"begin lean", "set lean 0.1000", "end lean"});
    CHECK(lean.keyPressed(juce::KeyPress(juce::KeyPress::upKey, juce::ModifierKeys::shiftModifier, 0)));
    CHECK(asked[4] == "set lean 1.1000");
    CHECK(lean.keyPressed(juce::KeyPress(juce::KeyPress::deleteKey)));
    CHECK(asked[7] == "set lean 0.0000");
    CHECK(lean.getValueFromText(juce::String::charToString(0x2212) + "8,5 ms") == Approx(-8.5));
    CHECK(lean.getValueFromText("quite a bit") == Approx(lean.getValue()));
}

TEST_CASE("Acts: each is there when it can be done, says what it does, and the one that is due is lit", "[editor]")
{
    Screen screen(madeUpModel("settled"));
    auto& body = *screen.body;
    auto* measure = find<juce::TextButton>(body, "Measure");
    auto* freeze = find<juce::TextButton>(body, "Freeze");
    const auto isLit = [](const juce::Component* c) { return static_cast<bool>(c->getProperties()[Look::due]); };
    CHECK_FALSE(measure->isEnabled());
    CHECK(freeze->getButtonText() == "Freeze 31.08 ms");
    CHECK(isLit(freeze));
    freeze->onClick();
    CHECK(screen.target->asked.back() == "freeze");
    body.refresh();
    CHECK(measure->isEnabled());
    CHECK_FALSE(freeze->isEnabled());
    CHECK_FALSE(isLit(freeze));
    CHECK(freeze->getButtonText() == "Frozen at 31.08 ms");
    measure->onClick();
    CHECK(screen.target->asked.back() == "measure");
    CHECK_FALSE(find<juce::TextButton>(body, "Undo")->isEnabled());
    CHECK_FALSE(find<juce::TextButton>(body, "Redo")->isEnabled());

    Screen other(madeUpModel("frozen"));
    CHECK(find<juce::TextButton>(*other.body, "Undo")->getTooltip().startsWith("Undo: the freeze at 31.08 ms"));
    CHECK(find<juce::TextButton>(*other.body, "Redo")->getTooltip().startsWith("Redo: the lag by hand"));

    Screen measuring(madeUpModel("measuring"));
    CHECK_FALSE(isLit(find<juce::TextButton>(*measuring.body, "Freeze")));
    Screen chanceless(madeUpModel("no chance"));
    CHECK_FALSE(find<juce::TextButton>(*chanceless.body, "Apply")->isEnabled());
}

TEST_CASE("Offer: in view with what is held, applied or kept by one press, gone when there is none", "[editor]")
{
    Screen screen(madeUpModel("offered"));
    auto& body = *screen.body;
    auto* apply = find<juce::TextButton>(body, "Apply the offered lag");
    CHECK(apply->getButtonText() == "Apply 25.30 ms");
    apply->onClick();
    CHECK(screen.target->asked.back() == "take offer");
    find<juce::TextButton>(body, "Keep")->onClick();
    CHECK(screen.target->asked.back() == "keep");
    CHECK(body.keyPressed(juce::KeyPress('o', 0, 'o')));
    CHECK(screen.target->asked.back() == "take offer");
    const int small = find<VerdictPanel>(body, "Verdict")->getHeight();
    screen.target->model.values.offered.reset();
    body.refresh();
    CHECK(find<VerdictPanel>(body, "Verdict")->getHeight() > small + 40);
    const auto count = screen.target->asked.size();
    body.keyPressed(juce::KeyPress('o', 0, 'o'));
    CHECK(screen.target->asked.size() == count);
}

TEST_CASE("Lock: nothing can be pressed while it is on, and it says whose it is", "[editor]")
{
    Screen screen(madeUpModel("frozen"));
    auto& body = *screen.body;
    auto* lock = find<juce::TextButton>(body, "Lock");
    CHECK(body.keyPressed(juce::KeyPress('l', 0, 'l')));
    body.refresh();
    CHECK(lock->getButtonText() == "Locked");
    for (const auto* title : {"Measure", "Apply", "Undo", "Redo", "Freeze"})
        CHECK_FALSE(find<juce::TextButton>(body, title)->isEnabled());
    lock->onClick();
    body.refresh();
    CHECK(find<juce::TextButton>(body, "Measure")->isEnabled());
    screen.target->model.values.locked = true; // by the host
    body.refresh();
    CHECK(lock->getTooltip() == "Locked while the host records.");
}

TEST_CASE("A/B: level-matched, and between two lags where there are two", "[editor]")
{
    Screen screen(madeUpModel("frozen"));
    auto& body = *screen.body;
    CHECK_FALSE(find<juce::ToggleButton>(body, "Two lags")->isEnabled());
    find<juce::ToggleButton>(body, "Level-matched")->setToggleState(true, juce::sendNotificationSync);
    CHECK(screen.target->asked.end()[-2] == "set levelMatched 1.0000");
    Screen other(madeUpModel("offered"));
    auto* two = find<juce::ToggleButton>(*other.body, "Two lags");
    CHECK(two->isEnabled());
    two->setToggleState(true, juce::sendNotificationSync);
    CHECK(other.target->asked.end()[-2] == "set compareLags 1.0000");
    other.body->refresh();
    CHECK(find<juce::TextButton>(*other.body, "Hear: As recorded")->getButtonText() == "Other lag");
}

TEST_CASE("Setup: the preset box tells what is set and whether it was changed; names and room channels by name",
          "[editor]")
{
    Screen screen(madeUpModel("by hand, clipped"));
    auto& body = *screen.body;
    body.setPage(Body::Page::setup);
    CHECK(find<juce::ComboBox>(body, "Presets")->getText() == "Full ensemble, changed");
    screen.target->model.values.presetChanged = false;
    body.refresh();
    CHECK(find<juce::ComboBox>(body, "Presets")->getText() == "Full ensemble");
    auto* spot = find<juce::TextEditor>(body, "Spot, name");
    spot->setText("Snare top", false);
    spot->onReturnKey();
    CHECK(screen.target->model.values.names.spot == "Snare top");
    screen.target->model.values.roomChannels = 3;
    body.refresh();
    auto* channel = find<juce::ComboBox>(body, "Room channel");
    CHECK(channel->getNumItems() == 4);
    CHECK(channel->getItemText(3) == "Room: channel 3");
    channel->setSelectedId(4, juce::sendNotificationSync);
    CHECK(screen.target->asked.end()[-2] == "set roomChannel 3.0000");
}

TEST_CASE("Setup: what is a host's matter is not on the screen where there is none; no tape is no 0.00 m", "[editor]")
{
    const auto shown = [](bool host)
    {
        auto target = std::make_unique<MadeUpTarget>(madeUpModel("settled"));
        target->host = host;
        Body body(std::move(target));
        body.setPage(Body::Page::setup);
        body.setPage(Body::Page::keys);
        CHECK(find<juce::Component>(body, "Keys")->getDescription().contains("host") == host);
        body.setPage(Body::Page::setup);
        juce::StringArray switches;
        eachVisible(body,
                    [&](juce::Component& c)
                    {
                        if (dynamic_cast<juce::ToggleButton*>(&c) != nullptr) switches.add(c.getTitle());
                    });
        CHECK(find<juce::Slider>(body, "Tape")->getTextFromValue(0.0) == "not taped");
        CHECK(find<juce::Slider>(body, "Tape")->getTextFromValue(10.5) == "10.50 m");
        return switches;
    };
    for (const auto* ofHosts : {"Host delays the room", "Lock while the host records"})
    {
        CHECK(shown(true).contains(ofHosts));
        CHECK_FALSE(shown(false).contains(ofHosts));
    }
}

TEST_CASE("Body: keys do what the buttons do, and nothing while a trial holds still", "[editor]")
{
    Screen screen(madeUpModel("frozen"));
    auto& body = *screen.body;
    auto& asked = screen.target->asked;
    const auto press = [&](char key, int modifiers = 0)
    {
        const bool used = body.keyPressed(juce::KeyPress(key, modifiers, static_cast<juce::juce_wchar>(key)));
        body.refresh();
        return used;
    };
    CHECK(press('a'));
    CHECK(asked.end()[-2] == "set aligned 0.0000");
    CHECK(press('a'));
    CHECK(asked.end()[-2] == "set aligned 1.0000");
    CHECK(press('b'));
    CHECK(asked.end()[-2] == "set blend 0.0000"); // it was on
    CHECK(press('z'));
    CHECK(asked.back() == "undo");
    CHECK(press('Z', juce::ModifierKeys::shiftModifier));
    CHECK(asked.back() == "redo");
    CHECK(press('m'));
    CHECK(asked.back() == "measure");
    CHECK(press('f'));
    CHECK(asked.back() == "freeze");
    const auto count = asked.size();
    CHECK(press('f')); // nothing more to freeze
    CHECK(asked.size() == count);
    auto& lanes = *find<LanesView>(body, "Attack picture");
    const double before = lanes.axis().length;
    CHECK(press('+'));
    CHECK(lanes.axis().length < before);
    CHECK(press('-'));
    CHECK(lanes.axis().length == Approx(before));
    CHECK(press('0'));
    CHECK(lanes.length() == 0.0);
    CHECK(press('h'));
    CHECK(find<HitsView>(body, "Hits")->isByTime());
    CHECK(press('?'));
    CHECK(find<KeysPage>(body, "Keys")->isVisible());
    CHECK(body.keyPressed(juce::KeyPress(juce::KeyPress::escapeKey)));
    CHECK(lanes.isVisible());
    CHECK_FALSE(press(' ')); // the host's
    CHECK_FALSE(press('f', juce::ModifierKeys::ctrlModifier));

    screen.target->model.trial.running = true;
    body.refresh();
    const auto held = asked.size();
    for (const char key : {'a', 'b', 'f', 'm', 'z', 'p'}) press(key);
    CHECK(asked.size() == held);
}

TEST_CASE("Verdict: by colour, shape and word; beside a lag by hand it is grey and says of what it speaks", "[editor]")
{
    Screen screen(madeUpModel("settled"));
    auto& body = *screen.body;
    const auto edge = [&]
    {
        const auto image = screen.picture(1.0F);
        const auto area = find<VerdictPanel>(body, "Verdict")->getBounds();
        return image.getPixelAt(area.getCentreX(), area.getY());
    };
    CHECK(difference(edge(), Theme::dark().good) < 0.1F);
    screen.target->model.values.byHand = true;
    screen.target->model.values.held = Sides::both({0.0305, Polarity::normal});
    REQUIRE(body.refresh());
    CHECK(difference(edge(), Theme::dark().dim) < 0.1F);
    screen.target->model.values.advice = {"This speaks of the measured 31.08 ms."}; // the plugin's words
    REQUIRE(body.refresh());
    CHECK(reasonWords(screen.target->model)[0] == "This speaks of the measured 31.08 ms.");

    Screen unsure(madeUpModel("no chance"));
    CHECK(confidenceWords(unsure.target->model).isEmpty());
    CHECK_FALSE(linesOf(*find<LagReadout>(*unsure.body, "Lag")).joinIntoString(" ").contains("46.3"));
}

TEST_CASE("Words of the sum follow what is applied now: lag by hand, lean, polarity, whole samples", "[editor]")
{
    Screen screen(madeUpModel("settled"));
    auto& lanes = *find<LanesView>(*screen.body, "Attack picture");
    auto& values = screen.target->model.values;
    const auto figures = [&]
    {
        screen.body->refresh();
        REQUIRE(lanes.figures());
        return *lanes.figures();
    };
    CHECK(figures().flamAfter == Approx(0.0).margin(1e-6));
    values.controls.lean = 0.008;
    CHECK(figures().flamAfter == Approx(0.008).margin(1e-6));
    CHECK(linesOf(lanes).contains("room leads by 8 ms"));
    // Beside the number that is held stands the one that is heard, as in the picture.
    const auto readout = linesOf(*find<LagReadout>(*screen.body, "Lag"));
    CHECK(readout.contains("lag without lean"));
    CHECK(readout.joinIntoString(" ").contains("heard as 39.08 ms"));
    CHECK(linesOf(lanes).contains("waits 39.08 ms"));
    CHECK(linesOf(*find<LeanControl>(*screen.body, "Lean and the sum")).contains("room leads by 8 ms"));
    values.byHand = true;
    values.held = Sides::both({0.0305, Polarity::normal}); // 0.584 ms earlier than measured
    CHECK(figures().flamAfter == Approx(0.008 - 0.000584).margin(1e-6));
    CHECK(linesOf(lanes).contains("room leads by 7.4 ms"));
    values.controls.lean = 0.0;
    values.held = Sides::both({0.031084, Polarity::normal});
    const auto normal = figures();
    values.held = Sides::both({0.031084, Polarity::inverted});
    const auto inverted = figures();
    CHECK(inverted.attackGainDb < normal.attackGainDb - 1.0); // the drawn room is no mirror of the spot
    values.held = Sides::both({0.031084, Polarity::normal});
    values.controls.wholeSamples = true; // 1492.03 samples of 48 kHz: 1492
    CHECK(figures().flamAfter == Approx(0.031084 - 1492.0 / 48000.0).margin(1e-9));
    CHECK(linesOf(*find<LagReadout>(*screen.body, "Lag")).joinIntoString(" ").contains("heard as 1492 smp"));
}
