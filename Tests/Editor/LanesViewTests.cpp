#include "Editor/LanesView.h"

#include "Editor/Screen.h"
#include "Editor/TextAudit.h"

using namespace tarry;
using namespace tarry::test;

namespace
{
using Lane = LanesView::Lane;

juce::MouseEvent mouse(juce::Component& at, juce::Point<float> now, juce::Point<float> down, bool moved,
                       int modifiers = 0)
{
    const auto source = juce::Desktop::getInstance().getMainMouseSource();
    return {source,
            now,
            juce::ModifierKeys(juce::ModifierKeys::leftButtonModifier | modifiers),
            1.0F,
            0.0F,
            0.0F,
            0.0F,
            0.0F,
            &at,
            &at,
            juce::Time(),
            down,
            juce::Time(),
            1,
            moved};
}

juce::Image pictureOf(LanesView& view)
{
    juce::Image image(juce::Image::RGB, view.getWidth(), view.getHeight(), true, juce::SoftwareImageType());
    juce::Graphics g(image);
    view.paint(g);
    return image;
}

int differing(const juce::Image& a, const juce::Image& b, juce::Rectangle<int> area)
{
    int count = 0;
    for (int y = area.getY(); y < area.getBottom(); ++y)
        for (int x = area.getX(); x < area.getRight(); ++x) count += a.getPixelAt(x, y) != b.getPixelAt(x, y) ? 1 : 0;
    return count;
}
} // namespace

TEST_CASE("LanesView: the spot is dragged on its waveform, in one gesture; the view and the room's lane stand still",
          "[editor]")
{
    for (const auto* name : {"settled", "by hand, nothing measured", "measuring"})
    {
        Screen screen(madeUpModel(name));
        auto& view = *find<LanesView>(*screen.body, "Attack picture");
        const double before = screen.target->model.values.hasLag ? screen.target->model.values.applied().lag : 0.0;
        const auto from = view.lane(Lane::spot).getCentre().toFloat();
        view.mouseDown(mouse(view, from, from, false));
        const auto first = view.axis();
        view.mouseDrag(mouse(view, from.translated(40.0F, 0.0F), from, true));
        const auto still = pictureOf(view);
        const double perPixel = first.length / static_cast<double>(first.width);
        INFO(name << ", asked for " << screen.target->asked.back());
        CHECK(screen.target->asked.back() == "lag " + juce::String(before + 40.0 * perPixel, 6).toStdString());
        view.mouseDrag(mouse(view, from.translated(90.0F, 0.0F), from, true));
        CHECK(screen.target->asked.back() == "same lag " + juce::String(before + 90.0 * perPixel, 6).toStdString());
        view.mouseUp(mouse(view, from.translated(90.0F, 0.0F), from, true));
        CHECK(view.axis().start == first.start);
        CHECK(view.axis().length == first.length);
        const auto after = pictureOf(view);
        CHECK(differing(still, after, view.lane(Lane::room)) == 0); // its arrival is measured or nothing
        CHECK(differing(still, after, view.lane(Lane::spot)) > 20);
        const bool hasWaves = screen.target->model.report.spotAttack.values.size() > 0;
        if (hasWaves) CHECK(differing(still, after, view.lane(Lane::sum)) > 20); // live
    }
}

TEST_CASE("LanesView: with nothing measured no arrival of the room is drawn", "[editor]")
{
    Screen screen(madeUpModel("by hand, nothing measured"));
    auto& view = *find<LanesView>(*screen.body, "Attack picture");
    const auto image = pictureOf(view);
    const auto room = view.lane(Lane::room).withTrimmedTop(18);
    const auto isBlue = [](juce::Colour c) { return c.getBlue() > c.getRed() + 40; };
    int blue = 0;
    for (int y = room.getY(); y < room.getBottom(); ++y)
        for (int x = room.getX(); x < room.getRight(); ++x) blue += isBlue(image.getPixelAt(x, y)) ? 1 : 0;
    CHECK(blue == 0);
    CHECK_FALSE(view.figures());
}

TEST_CASE("LanesView: wheel and keys zoom around the place, drag and shift scroll, and there are ends", "[editor]")
{
    Screen screen(madeUpModel("settled"));
    auto& view = *find<LanesView>(*screen.body, "Attack picture");
    const auto at = view.lane(Lane::sum).getCentre().toFloat();
    const double under = view.axis().seconds(at.x);
    const double length = view.axis().length;
    juce::MouseWheelDetails wheel{};
    wheel.deltaY = 0.5F;
    view.mouseWheelMove(mouse(view, at, at, false), wheel);
    CHECK(view.axis().length < length);
    CHECK(view.axis().seconds(at.x) == Approx(under).margin(1e-6));
    for (int i = 0; i < 100; ++i) view.mouseWheelMove(mouse(view, at, at, false), wheel);
    CHECK(view.axis().length == Approx(LanesView::shortest));
    CHECK_FALSE(pictureOf(view).isNull());

    view.fit();
    const auto before = view.axis();
    view.mouseDown(mouse(view, at, at, false));
    view.mouseDrag(mouse(view, at.translated(-30.0F, 0.0F), at, true));
    view.mouseUp(mouse(view, at.translated(-30.0F, 0.0F), at, true));
    CHECK(view.axis().start == Approx(before.start + 30.0 * before.length / static_cast<double>(before.width)));
    wheel.deltaY = -30.0F;
    view.mouseWheelMove(mouse(view, at, at, false, juce::ModifierKeys::shiftModifier), wheel);
    CHECK(view.axis().start < 0.5); // something of the hit stays in view
    CHECK(view.axis().length == Approx(before.length));
    CHECK(screen.target->screen["view"].getDoubleValue() == Approx(1e3 * before.length).margin(0.01));
    view.mouseDoubleClick(mouse(view, at, at, false));
    CHECK(view.length() == 0.0);
}

TEST_CASE("LanesView: what is heard is filled, and the A/B turns it over", "[editor]")
{
    Screen screen(madeUpModel("settled"));
    auto& view = *find<LanesView>(*screen.body, "Attack picture");
    const auto orangeAt = [&](double seconds)
    {
        const auto image = pictureOf(view);
        const auto lane = view.lane(Lane::spot).withTrimmedTop(22).withTrimmedBottom(18);
        int count = 0;
        const int from = static_cast<int>(view.axis().x(seconds)) + 3;
        for (int x = from; x < from + 25; ++x)
            for (int y = lane.getY(); y < lane.getBottom(); ++y)
            {
                const auto c = image.getPixelAt(x, y);
                count += c.getRed() > 180 && c.getBlue() < 120 ? 1 : 0;
            }
        return count;
    };
    const double lag = 0.031084;
    const int set = orangeAt(lag), recorded = orangeAt(0.0);
    INFO("filled pixels as set " << set << ", as recorded " << recorded);
    CHECK(set > 2 * recorded);
    screen.target->model.values.controls.aligned = false;
    screen.body->refresh();
    CHECK(orangeAt(0.0) > 2 * orangeAt(lag));
}

TEST_CASE("LanesView: nothing is seen behind words, neither a wave nor a line", "[editor]")
{
    Screen screen(madeUpModel("settled"));
    auto& view = *find<LanesView>(*screen.body, "Attack picture");
    const auto& theme = Theme::dark();
    const auto tint = [](juce::Colour c) { return c.getRed() - c.getBlue(); }; // of ground and ink: 0 within a few
    int looked = 0;
    for (const double length : {0.0, 0.02, 0.2})
        for (int step = 0; step < 12; ++step)
        {
            view.setLength(length);
            view.scroll(0.05 * step * view.axis().length); // the upright lines go by behind the words
            juce::Image image(juce::Image::RGB, view.getWidth(), view.getHeight(), true, juce::SoftwareImageType());
            TextAudit audit;
            {
                juce::Graphics g(image);
                view.paint(g);
            }
            for (const auto& line : audit.written)
            {
                const bool isPlain = line.text.contains("after the spot") || line.text.startsWith("attack ");
                if (!isPlain) continue; // of names in their own colours the letters are no ground
                ++looked;
                int worst = 0;
                const auto area = line.area.toNearestInt().getIntersection(view.getLocalBounds());
                for (int y = area.getY(); y < area.getBottom(); ++y)
                    for (int x = area.getX(); x < area.getRight(); ++x)
                        worst = std::max(worst, std::abs(tint(image.getPixelAt(x, y)) - tint(theme.panel)));
                INFO(line.text << ", " << length << " s on view, step " << step << ": tint off by " << worst);
                CHECK(worst <= 20); // the ink's own warmth
            }
        }
    CHECK(looked >= 36);
}

TEST_CASE("LanesView: the wait is marked on the rule from where the spot was to where it is set", "[editor]")
{
    Screen screen(madeUpModel("settled"));
    auto& view = *find<LanesView>(*screen.body, "Attack picture");
    const auto row = view.waitRow();
    CHECK(row.getY() == view.lane(Lane::spot).getBottom());
    CHECK(row.getBottom() == view.lane(Lane::room).getY());
    const auto warmAt = [&](double seconds)
    {
        const auto c = pictureOf(view).getPixelAt(static_cast<int>(view.axis().x(seconds)), row.getCentreY() + 4);
        return c.getRed() - c.getBlue();
    };
    const double lag = 0.031084;
    CHECK(warmAt(0.1 * lag) > 20);
    CHECK(warmAt(0.85 * lag) > 20);
    CHECK(warmAt(-0.002) < 10);
    CHECK(warmAt(lag + 0.002) < 10);
    // It is taken hold of as the waveform is.
    const auto from = row.getCentre().toFloat();
    view.mouseDown(mouse(view, from, from, false));
    view.mouseDrag(mouse(view, from.translated(40.0F, 0.0F), from, true));
    CHECK(juce::String(screen.target->asked.back()).startsWith("lag "));
}

TEST_CASE("LanesView: the way that sound goes stands below the time where there is room, in metres or in feet",
          "[editor]")
{
    Screen screen(madeUpModel("settled"));
    auto& view = *find<LanesView>(*screen.body, "Attack picture");
    const auto lastWords = [&]
    {
        TextAudit audit;
        CHECK_FALSE(pictureOf(view).isNull());
        return audit.written.back();
    };
    CHECK(lastWords().text == "ms");
    screen.body->setSize(1600, 1000);
    CHECK(lastWords().text == "m");
    find<LagReadout>(*screen.body, "Lag")->setUnit(LagUnit::feet);
    CHECK(lastWords().text == "ft");
    // 10 m stand where a sound that was made at 0 has gone 10 m: 29.1 ms at 343.2 m/s (dry air, 20 C).
    find<LagReadout>(*screen.body, "Lag")->setUnit(LagUnit::ms);
    TextAudit audit;
    CHECK_FALSE(pictureOf(view).isNull());
    const auto row = audit.written.back().area;
    bool found = false;
    for (const auto& line : audit.written)
        if (line.text == "10" && line.area.getY() == row.getY())
        {
            found = true;
            CHECK(view.axis().seconds(line.area.getCentreX()) == Approx(10.0 / 343.2).epsilon(0.01));
        }
    CHECK(found);
}

TEST_CASE("LanesView: without a hit to draw it asks for some; with hits that the room does not hear it says so",
          "[editor]")
{
    const auto words = [](int found)
    {
        auto model = madeUpModel("measuring");
        model.values.hasLag = false;
        model.report = {};
        model.report.hitsFound = model.report.hitsUnheard = found;
        Screen screen(model);
        TextAudit audit;
        CHECK_FALSE(pictureOf(*find<LanesView>(*screen.body, "Attack picture")).isNull());
        juce::String all;
        for (const auto& line : audit.written) all << line.text << "\n";
        return all;
    };
    CHECK(words(0).contains("Play a few hits"));
    CHECK_FALSE(words(8).contains("Play a few hits"));
    CHECK(words(8).contains("No hit was found in both"));
}
