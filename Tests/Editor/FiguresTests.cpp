#include "Editor/Figures.h"

#include "Editor/FiguresPanel.h"
#include "Editor/Screen.h"
#include "Editor/TextAudit.h"

#include <algorithm>

using namespace tarry;
using namespace tarry::test;

namespace
{
juce::String valueOf(const std::vector<Figure>& figures, const juce::String& name)
{
    const auto found =
        std::find_if(figures.begin(), figures.end(), [&](const Figure& each) { return each.name == name; });
    return found == figures.end() ? juce::String("none") : found->value;
}
} // namespace

TEST_CASE("Figures: each with its unit, and none where nothing was measured", "[editor]")
{
    auto model = madeUpModel("settled");
    model.report.spread = 0.00002;
    model.report.clearDb = 21.4;
    model.values.setup.temperature = 20.0;
    CHECK(valueOf(briefFigures(model), "spread of the hits") == "0.02 ms");
    CHECK(valueOf(briefFigures(model), "clear by") == "21.4 dB");
    CHECK(valueOf(briefFigures(model), "by the tape") == "not taped");
    model.values.setup.tape = 10.5;
    CHECK(valueOf(briefFigures(model), "by the tape") == "10.50 m");
    CHECK(valueOf(allFigures(model), "Measured lag").startsWith("31.08 ms"));
    CHECK(briefFigures(madeUpModel("by hand, nothing measured")).empty());
    CHECK(allFigures(madeUpModel("by hand, nothing measured")).empty());
}

TEST_CASE("Figures: beside the verdict whole lines are shown, as many as fit, and none in the smallest window",
          "[editor]")
{
    Screen screen(madeUpModel("settled"));
    const auto shown = [&]
    {
        int count = 0;
        eachVisible(*screen.body, [&](juce::Component& c) { count += c.getTitle() == "Figures" ? 1 : 0; });
        return count;
    };
    screen.body->setSize(640, 400);
    CHECK(shown() == 0);
    screen.body->setSize(1600, 1000);
    REQUIRE(shown() == 1);
    auto& panel = *find<FiguresPanel>(*screen.body, "Figures");
    TextAudit audit;
    juce::Image image(juce::Image::RGB, panel.getWidth(), panel.getHeight(), true, juce::SoftwareImageType());
    {
        juce::Graphics g(image);
        panel.paint(g);
    }
    CHECK(audit.cut.isEmpty());
    CHECK(audit.lines == 2 * static_cast<int>(briefFigures(screen.target->model).size()));
    for (const auto& line : audit.written) CHECK(panel.getLocalBounds().toFloat().contains(line.area));
}
