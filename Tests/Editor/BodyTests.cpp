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
} // namespace

TEST_CASE("Body: in no state, unit, theme or size is any text cut", "[editor]")
{
    for (const auto& [name, model] : madeUpModels())
        for (const bool dark : {true, false})
            for (int page = 0; page < 4; ++page)
            {
                Screen screen(model);
                screen.body->setDark(dark);
                screen.body->setPage(static_cast<Body::Page>(page));
                for (int unit = 0; unit < lagUnitCount; ++unit)
                {
                    find<LagReadout>(*screen.body, "Lag")->setUnit(static_cast<LagUnit>(unit));
                    for (const float scale : {0.75F, 1.0F, 2.0F})
                    {
                        if (unit != 0 && (scale != 1.0F || !dark)) continue; // they move no word against its place
                        TextAudit audit;
                        const auto image = screen.picture(scale);
                        INFO(name << ", page " << pageNames[page] << ", unit " << unit << ", scale " << scale << ": "
                                  << audit.cut.joinIntoString("; "));
                        CHECK(audit.cut.isEmpty());
                        CHECK(audit.lines > 10);
                        if (unit == 0)
                            keepPicture(image, juce::String(name)
                                                       .retainCharacters("abcdefghijklmnopqrstuvwxyz0123456789 ")
                                                       .replace(" ", "-") +
                                                   "." + pageNames[page] + (dark ? ".dark." : ".light.") +
                                                   juce::String(juce::roundToInt(scale * 100)));
                    }
                }
            }
}

TEST_CASE("Body: no words of the attack picture are cut or leave it, at any zoom and lean", "[editor]")
{
    for (const auto& [name, model] : madeUpModels())
        for (const int zoom : {0, 1, 2})
            for (const double lean : {-0.02, -0.0003, 0.0, 0.002, 0.03})
            {
                Screen screen(model);
                screen.target->model.values.controls.lean = lean;
                screen.body->refresh();
                find<juce::TextButton>(*screen.body,
                                       juce::StringArray{"Zoom: 5 ms", "Zoom: 20 ms", "Zoom: 60 ms"}[zoom])
                    ->onClick();
                TextAudit audit;
                const auto image = screen.picture(1.0F);
                INFO(name << ", zoom " << zoom << ", lean " << lean << ": " << audit.cut.joinIntoString("; "));
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
        for (const auto* zoom : {"Zoom: 5 ms", "Zoom: 20 ms", "Zoom: 60 ms"})
            for (const double lean : {-0.02, -0.0003, 0.0, 0.00803651, 0.03})
            {
                screen.target->model.values.controls.lean = lean;
                screen.body->refresh();
                find<juce::TextButton>(*screen.body, zoom)->onClick();
                look(zoom + (", lean " + std::to_string(lean)));
            }
        for (int page = 1; page < 4; ++page)
        {
            screen.body->setPage(static_cast<Body::Page>(page));
            look(pageNames[page]);
        }
    }
}

TEST_CASE("Body: nothing overlaps its neighbours or leaves its parent", "[editor]")
{
    for (const auto& [name, model] : madeUpModels())
        for (int page = 0; page < 4; ++page)
        {
            Screen screen(model);
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
        for (int page = 0; page < 4; ++page)
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
    CHECK(asked.back() == "lag 0.031073"); // 31.094 ms less a sample of 48 kHz, 0.0208 ms
    CHECK(press(juce::KeyPress(juce::KeyPress::deleteKey)));
    CHECK(asked.back() == "apply");

    CHECK(press(juce::KeyPress('u', 0, 'u')));
    CHECK(lag.unit() == LagUnit::samples);
    CHECK(screen.target->screen["unit"] == "samples");

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
    find<juce::TextButton>(*screen.body, "Polarity")->onClick();
    CHECK(asked.back() == "polarity inverted");
}

TEST_CASE("ValueSlider: keys are one gesture each, and Delete returns to the default", "[editor]")
{
    Screen screen(madeUpModel("settled"));
    auto& lean = *find<ValueSlider>(*screen.body, "Lean");
    auto& asked = screen.target->asked;
    CHECK(lean.keyPressed(juce::KeyPress(juce::KeyPress::upKey)));
    CHECK(asked == std::vector<std::string>{"begin lean", "set lean 0.0001", "end lean"});
    CHECK(lean.keyPressed(juce::KeyPress(juce::KeyPress::upKey, juce::ModifierKeys::shiftModifier, 0)));
    CHECK(asked[4] == "set lean 0.0011");
    CHECK(lean.keyPressed(juce::KeyPress(juce::KeyPress::deleteKey)));
    CHECK(asked[7] == "set lean 0.0000");
    CHECK(lean.getValueFromText(juce::String::charToString(0x2212) + "8,5 ms") == Approx(-8.5));
    CHECK(lean.getValueFromText("quite a bit") == Approx(lean.getValue()));
}

TEST_CASE("Transport: each act is there when it can be done, and only then", "[editor]")
{
    Screen screen(madeUpModel("settled"));
    auto* measure = find<juce::TextButton>(*screen.body, "Measure");
    auto* freeze = find<juce::TextButton>(*screen.body, "Freeze");
    CHECK_FALSE(measure->isEnabled());
    freeze->onClick();
    CHECK(screen.target->asked.back() == "freeze");
    screen.body->refresh();
    CHECK(measure->isEnabled());
    CHECK_FALSE(freeze->isEnabled());
    measure->onClick();
    CHECK(screen.target->asked.back() == "measure");
    CHECK_FALSE(find<juce::TextButton>(*screen.body, "Undo")->isEnabled());
}
