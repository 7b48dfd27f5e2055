#include "Files/Picture.h"

#include "Files/Fixtures.h"
#include "Support/Catch.h"
#include "Support/Python.h"

#include <cmath>
#include <locale>
#include <sstream>

using namespace tarry;
using namespace tarry::test;

namespace
{
/// A decaying swing that starts at 0 s.
Curve attackFrom(double onset)
{
    Curve curve{-0.02, 1.0 / 48000.0, {}};
    for (int i = 0; i < 4800; ++i)
    {
        const double t = curve.start + i * curve.step - onset;
        curve.values.push_back(t < 0.0 ? 0.0F : static_cast<float>(std::exp(-t / 0.01) * std::cos(900.0 * t)));
    }
    return curve;
}

Measurement someMeasurement()
{
    Measurement measurement;
    measurement.spot = {"spot.wav", 1, 48000, 480000, 0, {}, {}, {}};
    measurement.room = {"room.wav", 1, 48000, 480000, 0, {}, {}, {}};
    Report& report = measurement.report;
    report.lag = 0.0310837;
    report.polarity = Polarity::inverted;
    report.confidence = 0.93;
    report.verdict = Verdict::align;
    report.reasons = {
        "Two of three hits agree on 31.08 ms, and here follows a long reason that takes more than one line "
        "of the sheet to be said in full, which it has to be: nobody can ask a picture what it left out.",
        "A second reason."};
    report.runnerUpLag = 0.036;
    report.spotAttack = attackFrom(0.0);
    report.roomAttack = attackFrom(0.0310837);
    report.evidence = {-0.003, 1.0 / 24000.0, std::vector<float>(2000, 0.1F)};
    for (const double time : {0.5, 1.25, 2.0})
    {
        HitReport hit;
        hit.time = time;
        hit.lag = time == 2.0 ? 0.05 : 0.0311;
        hit.used = true;
        hit.agreeing = time != 2.0;
        report.hits.push_back(hit);
    }
    return measurement;
}

/// Prints every text of the sheet in a line of its own, then the numbers of dots and of curve points; fails where it is
/// no well-formed SVG, where a number is none, or where something lies beyond the sheet.
const char* const readSheet = R"(
import sys, math
import xml.etree.ElementTree as tree
root = tree.parse(sys.argv[1]).getroot()
space = '{http://www.w3.org/2000/svg}'
assert root.tag == space + 'svg', root.tag
width, height = float(root.get('width')), float(root.get('height'))
points = 0
for node in root.iter(space + 'text'):
    print(''.join(node.itertext()))
    assert 0 <= float(node.get('x')) <= width and 0 <= float(node.get('y')) <= height, node.attrib
for node in root.iter(space + 'polyline'):
    for pair in node.get('points').split():
        x, y = map(float, pair.split(','))
        assert 0 <= x <= width and 0 <= y <= height, pair
        points += 1
print('dots', sum(1 for node in root.iter(space + 'circle')))
print('points', points)
)";

ProcessResult sheetOf(const Measurement& measurement, const std::filesystem::path& python)
{
    const TemporaryFolder folder;
    writeBytes(folder / "sheet.svg", toSvg(measurement));
    return runPython(python, readSheet, {folder / "sheet.svg"});
}

std::string inOneLine(std::string text)
{
    for (char& c : text)
        if (c == '\n') c = ' ';
    return text;
}
} // namespace

TEST_CASE("the picture says lag, polarity, verdict and every reason in full, and draws what was heard", "[outside]")
{
    TARRY_NEED_PYTHON(python, "xml.etree"); // Python's own reader, not ours
    const Measurement measurement = someMeasurement();
    const auto sheet = sheetOf(measurement, python);
    INFO(sheet.output << sheet.errors);
    REQUIRE(sheet.status == 0);
    const std::string text = inOneLine(sheet.output);
    for (const char* words : {"lag 31.084 ms", "polarity inverted", "93 % sure", "verdict align", "spot.wav",
                              "room.wav", "chosen: 31.08 ms", "next best: 36.00 ms"})
    {
        INFO(words);
        CHECK(contains(text, words));
    }
    for (const std::string& reason : measurement.report.reasons)
    {
        INFO(reason);
        CHECK(contains(text, reason));
    }
    CHECK(contains(text, "dots 2"));
    std::istringstream lines(sheet.output);
    for (std::string line; std::getline(lines, line);)
    {
        INFO(line);
        CHECK(line.size() <= 130); // what fits on the sheet at 12 px
    }
}

TEST_CASE("the picture's numbers have a point where the program writes a comma")
{
    struct Comma : std::numpunct<char>
    {
        char do_decimal_point() const override { return ','; }
        char do_thousands_sep() const override { return '.'; }
        std::string do_grouping() const override { return "\3"; }
    };
    const auto plain = toSvg(someMeasurement());
    const auto before = std::locale::global(std::locale(std::locale::classic(), new Comma)); // which owns it
    std::ostringstream other;
    other << 31.5;
    const auto inOther = toSvg(someMeasurement());
    std::locale::global(before);
    CHECK(other.str() == "31,5"); // the locale was at work
    CHECK(inOther == plain);
}

TEST_CASE("any file name, any curve and no lag at all make a well-formed picture", "[outside]")
{
    TARRY_NEED_PYTHON(python, "xml.etree");
    for (const std::string& name : {std::string("<b>&\"'.wav"), std::string("gro\xDF.wav"),
                                    std::string("gro\xC3\x9F\xE2\x99\xAA.wav"), std::string("\x01\x1B[2J\x7F.wav"),
                                    std::string("\xED\xA0\x80\xC0\x80\xEF\xBF\xBF\xF4.wav"), std::string(250, 'w')})
    {
        Measurement measurement = someMeasurement();
        measurement.spot.file = name;
        const auto sheet = sheetOf(measurement, python);
        INFO(name << "\n" << sheet.output << sheet.errors);
        CHECK(sheet.status == 0);
        CHECK(contains(sheet.output, "lag 31.084 ms"));
    }
    Measurement measurement = someMeasurement();
    measurement.report.lag = -0.004;
    CHECK(contains(sheetOf(measurement, python).output, "later than room"));
    measurement.report = {};
    measurement.report.reasons = {"No hit was found."};
    const auto sheet = sheetOf(measurement, python);
    INFO(sheet.output << sheet.errors);
    CHECK(sheet.status == 0);
    CHECK(contains(sheet.output, "no lag found"));
    CHECK(contains(sheet.output, "No hit was found."));
    CHECK(contains(sheet.output, "points 0"));
}
