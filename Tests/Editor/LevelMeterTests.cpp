#include "Editor/LevelMeter.h"

#include "Editor/Look.h"
#include "Support/Catch.h"

using namespace tarry;

TEST_CASE("LevelMeter: up at once, down by 24 dB a second, held and clipped for a while", "[editor]")
{
    const juce::ScopedJuceInitialiser_GUI juce;
    LevelMeter meter(true);
    meter.update(0.5F, 0.03);
    CHECK(meter.shownDb() == Approx(-6.02).margin(0.01));
    for (int i = 0; i < 10; ++i) meter.update(0.0F, 0.1);
    CHECK(meter.shownDb() == Approx(-6.02 - 24.0).margin(0.01));
    meter.update(1.0F, 0.03);
    CHECK(meter.shownDb() == Approx(0.0).margin(0.01));
    CHECK(meter.getTooltip().contains("clips"));
    for (int i = 0; i < 50; ++i) meter.update(0.0F, 0.1);
    CHECK(meter.shownDb() == LevelMeter::bottomDb);
    CHECK(meter.getTooltip() == "Spot: silent.");
}

TEST_CASE("LevelMeter: a silent room and one that arrives are told apart by form", "[editor]")
{
    const juce::ScopedJuceInitialiser_GUI juce;
    LevelMeter meter(false);
    meter.setSize(10, 100);
    const auto inked = [&]
    {
        juce::Image image(juce::Image::RGB, 10, 100, true, juce::SoftwareImageType());
        juce::Graphics g(image);
        g.fillAll(Theme::dark().ground);
        meter.paint(g);
        int count = 0;
        for (int y = 0; y < 100; ++y) count += image.getPixelAt(5, y).getBlue() > 0x60 ? 1 : 0;
        return count;
    };
    CHECK(inked() < 4);
    meter.update(0.1F, 0.03); // -20 dB: two thirds of the way
    const int here = inked();
    INFO(here << " of 95 px, expected about 63");
    CHECK(here > 55);
    CHECK(here < 72);
}
