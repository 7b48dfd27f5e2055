#include "Editor/HitsView.h"

#include "Editor/Screen.h"
#include "Editor/TextAudit.h"

using namespace tarry;
using namespace tarry::test;

TEST_CASE("HitsView: a hit beyond what is looked for stays in the plot, and no words lie on the discs", "[editor]")
{
    for (const double outside : {-0.0035, -0.005, 0.031})
        for (const bool byTime : {false, true})
            for (const auto& [width, height] : sizes)
            {
                auto model = madeUpModel("settled");
                model.report.hits.front().lag = outside; // of a neighbour, with no look-ahead
                Screen screen(model);
                screen.body->setSize(width, height);
                auto& view = *find<HitsView>(*screen.body, "Hits");
                view.setByTime(byTime);
                juce::Image image(juce::Image::RGB, view.getWidth(), view.getHeight(), true, juce::SoftwareImageType());
                juce::Graphics g(image);
                TextAudit audit;
                view.paint(g);
                for (int i = 0; i < static_cast<int>(model.report.hits.size()); ++i)
                {
                    const auto disc = juce::Rectangle<float>(9.0F, 9.0F).withCentre(*view.place(i));
                    INFO("hit " << i << " at " << disc.toString() << ", plot " << view.plot().toString());
                    CHECK(view.plot().expanded(1.0F).contains(disc));
                    for (const auto& line : audit.written)
                    {
                        INFO("\"" << line.text << "\" at " << line.area.toString());
                        CHECK_FALSE(line.area.reduced(0.0F, 1.5F).intersects(disc));
                    }
                }
            }
}

TEST_CASE("HitsView: by time a drift shows; by lag the clearer is higher", "[editor]")
{
    auto model = madeUpModel("settled");
    auto& all = model.report.hits;
    for (std::size_t i = 0; i < all.size(); ++i)
        if (all[i].agreeing)
            all[i].lag = 0.0310 + 1e-4 * static_cast<double>(i); // a stand that wanders by 0.1 ms a hit
    Screen screen(model);
    auto& view = *find<HitsView>(*screen.body, "Hits");
    view.setByTime(true);
    float last = 1e9F;
    for (int i = 0; i < static_cast<int>(all.size()); ++i)
        if (all[static_cast<std::size_t>(i)].agreeing)
        {
            CHECK(view.place(i)->y < last);
            last = view.place(i)->y;
        }
    view.setByTime(false);
    CHECK((view.place(0)->y < view.place(1)->y) == (all[0].clearDb > all[1].clearDb));
}

TEST_CASE("HitsView: the hit that is chosen is the one the lanes show, by click and by key", "[editor]")
{
    const auto model = madeUpModel("settled");
    Screen screen(model);
    auto& view = *find<HitsView>(*screen.body, "Hits");
    auto& lanes = *find<LanesView>(*screen.body, "Attack picture");
    const auto told = [&]
    {
        juce::Image image(juce::Image::RGB, lanes.getWidth(), lanes.getHeight(), true, juce::SoftwareImageType());
        juce::Graphics g(image);
        TextAudit audit;
        lanes.paint(g);
        juce::String all;
        for (const auto& line : audit.written) all << line.text << "|";
        return all;
    };
    CHECK(told().contains("31.08 ms after the spot"));
    CHECK(view.keyPressed(juce::KeyPress(juce::KeyPress::rightKey)));
    CHECK(told().contains("hit at 2.1 s"));
    for (int i = 0; i < 4; ++i) CHECK(lanes.keyPressed(juce::KeyPress(juce::KeyPress::rightKey)));
    CHECK(told().contains("12.40 ms after the spot")); // the one apart
    CHECK(view.keyPressed(juce::KeyPress(juce::KeyPress::escapeKey)));
    CHECK(told().contains("31.08 ms after the spot"));
    lanes.keyPressed(juce::KeyPress(juce::KeyPress::rightKey));
    lanes.keyPressed(juce::KeyPress(juce::KeyPress::rightKey));
    CHECK(told().contains("no longer kept")); // the second one, in these models
}
