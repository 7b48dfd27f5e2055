#include "Editor/Look.h"

#include "Support/Catch.h"

#include <array>
#include <cmath>

using namespace tarry;

namespace
{
using Triple = std::array<double, 3>;

Triple linear(juce::Colour colour)
{
    const auto one = [](float channel)
    {
        const auto c = static_cast<double>(channel);
        return c <= 0.04045 ? c / 12.92 : std::pow((c + 0.055) / 1.055, 2.4);
    };
    return {one(colour.getFloatRed()), one(colour.getFloatGreen()), one(colour.getFloatBlue())};
}

/// CIE 1976 L*a*b* of linear sRGB, white D65.
Triple lab(const Triple& c)
{
    const auto f = [](double t) { return t > 0.008856 ? std::cbrt(t) : 7.787 * t + 16.0 / 116.0; };
    const double x = f((0.4124 * c[0] + 0.3576 * c[1] + 0.1805 * c[2]) / 0.95047);
    const double y = f(0.2126 * c[0] + 0.7152 * c[1] + 0.0722 * c[2]);
    const double z = f((0.0193 * c[0] + 0.1192 * c[1] + 0.9505 * c[2]) / 1.08883);
    return {116.0 * y - 16.0, 500.0 * (x - y), 200.0 * (y - z)};
}

double difference(const Triple& a, const Triple& b)
{
    const auto p = lab(a), q = lab(b);
    return std::hypot(p[0] - q[0], p[1] - q[1], p[2] - q[2]);
}

/// How the two common kinds see a colour: Vienot, Brettel, Mollon 1999, in linear RGB (coefficients from memory).
Triple asProtanope(const Triple& c)
{
    const double redGreen = 0.11238 * c[0] + 0.88762 * c[1];
    return {redGreen, redGreen, 0.00401 * c[0] - 0.00401 * c[1] + c[2]};
}
Triple asDeuteranope(const Triple& c)
{
    const double redGreen = 0.29275 * c[0] + 0.70725 * c[1];
    return {redGreen, redGreen, -0.02234 * c[0] + 0.02234 * c[1] + c[2]};
}
} // namespace

TEST_CASE("Look: the contrast formula gives the ends of its scale and a known middle", "[editor]")
{
    // WCAG 2.2: 21:1 for black on white, 1:1 for a colour on itself. #767676 on white is the usual example of the
    // darkest grey that just passes 4.5:1 (from memory: 4.54).
    CHECK(contrast(juce::Colours::black, juce::Colours::white) == Approx(21.0).margin(1e-6));
    CHECK(contrast(juce::Colours::red, juce::Colours::red) == Approx(1.0).margin(1e-6));
    CHECK(contrast(juce::Colour(0xff767676), juce::Colours::white) == Approx(4.54).margin(0.01));
}

TEST_CASE("Look: every text colour stands out from everything it is written on, in both themes", "[editor]")
{
    constexpr double least = 4.5; // WCAG 2.2, success criterion 1.4.3, level AA
    for (const auto& theme : {Theme::dark(), Theme::light()})
    {
        CAPTURE(theme.ground.toString().toStdString());
        for (const auto& ground : {theme.ground, theme.panel, theme.control})
            for (const auto& text : {theme.ink, theme.dim, theme.spot, theme.room, theme.caution})
            {
                INFO("text " << text.toString() << " on " << ground.toString() << ": " << contrast(text, ground)
                             << ", at least " << least);
                CHECK(contrast(text, ground) >= least);
            }
        INFO("chosen button: " << contrast(theme.ground, theme.ink));
        CHECK(contrast(theme.ground, theme.ink) >= least);
    }
}

TEST_CASE("Look: focus rings, tracks and marks stand out as WCAG 2.2 asks of what is no text", "[editor]")
{
    constexpr double least = 3.0; // success criterion 1.4.11
    for (const auto& theme : {Theme::dark(), Theme::light()})
        for (const auto& ground : {theme.ground, theme.panel, theme.control})
            for (const auto& mark : {theme.focus, theme.spot, theme.room, theme.ink})
            {
                INFO("mark " << mark.toString() << " on " << ground.toString() << ": " << contrast(mark, ground));
                CHECK(contrast(mark, ground) >= least);
            }
}

TEST_CASE("Look: spot and room are told apart without red or green", "[editor]")
{
    // 2.3 is about the least difference that is seen (CIE 1976); ours to be safe at a glance is 15 times that.
    constexpr double least = 35.0;
    for (const auto& theme : {Theme::dark(), Theme::light()})
    {
        const auto spot = linear(theme.spot), room = linear(theme.room);
        for (const double seen : {difference(spot, room), difference(asProtanope(spot), asProtanope(room)),
                                  difference(asDeuteranope(spot), asDeuteranope(room))})
        {
            INFO("difference " << seen << ", at least " << least);
            CHECK(seen >= least);
        }
    }
}
