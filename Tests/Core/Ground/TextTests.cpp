#include "Core/Ground/Text.h"

#include "Core/Report/Verdict.h"
#include "Support/Catch.h"
#include "Support/CommaLocale.h"
#include "Support/Skip.h"

#include <cstdio>
#include <limits>

using namespace tarry;
using namespace tarry::test;

TEST_CASE("text: decimals, no negative zero, the sign where it is wanted")
{
    CHECK(fixed(31.0841, 3) == "31.084");
    CHECK(fixed(-0.0004, 3) == "0.000");
    CHECK(fixed(-3.5, 2) == "-3.50");
    CHECK(fixed(7.0, 0) == "7");
    CHECK(fixedSigned(0.0, 1) == "+0.0");
    CHECK(fixedSigned(-2.25, 2) == "-2.25");
    CHECK(fixed(std::numeric_limits<double>::max(), 3).size() == 313);
}

TEST_CASE("text: a true minus for people, an ASCII one for programs")
{
    CHECK(shown(-3.5, 1) == "\u22123.5");
    CHECK(shown(3.5, 1) == "3.5");
    CHECK(shown(-0.01, 1) == "0.0");
    CHECK(shownSigned(-5.0, 1) == "\u22125.0");
    CHECK(shownSigned(5.0, 1) == "+5.0");
}

TEST_CASE("text: never quite sure, never quite wrong")
{
    CHECK(shownPercent(1.0) == "over 99 %");
    CHECK(shownPercent(0.9951) == "over 99 %");
    CHECK(shownPercent(0.9849) == "98 %");
    CHECK(shownPercent(0.0) == "under 1 %");
}

TEST_CASE("text: a number is read whole or not at all")
{
    CHECK(readNumber("31.084") == 31.084);
    CHECK(readNumber("+3") == 3.0);
    for (const char* text : {"", "+", "+-3", "3 ", "3,5", "nan", "inf", "1e999", "0x10", "3ms"})
    {
        INFO(text);
        CHECK_FALSE(readNumber(text));
    }
}

TEST_CASE("text: white space goes at both ends, and nowhere else")
{
    CHECK(trimmed(" \t31 ms\r\n") == "31 ms");
    CHECK(trimmed("\v\f \n").empty());
    CHECK(trimmed("").empty());
    CHECK(trimmed("a") == "a");
}

TEST_CASE("text: a stranger's text is quoted on one line, short, in what any terminal can show")
{
    CHECK(tarry::quoted("spot.wav") == "'spot.wav'");
    CHECK(tarry::quoted("") == "''");
    CHECK(tarry::quoted("two\nlines\x1b[2J") == "'two?lines?[2J'"); // no escape sequence reaches the terminal
    CHECK(tarry::quoted("Gro\xC3\x9F") == "'Gro\?\?'");
    CHECK(tarry::quoted(std::string(40, 'x')) == "'" + std::string(40, 'x') + "'");
    CHECK(tarry::quoted(std::string(41, 'x')) == "'" + std::string(40, 'x') + "...'");
}

TEST_CASE("text: polarity and verdict have the lexicon's words")
{
    CHECK(nameOf(Polarity::normal) == std::string("normal"));
    CHECK(nameOf(Polarity::inverted) == std::string("inverted"));
    CHECK(nameOf(Verdict::align) == std::string("align"));
    CHECK(nameOf(Verdict::leave) == std::string("leave"));
    CHECK(nameOf(Verdict::unsure) == std::string("unsure"));
}

TEST_CASE("text: numbers and a verdict's reasons have a point where the host writes a comma", "[outside]")
{
    TARRY_NEED_COMMA(comma);
    char host[16];
    std::snprintf(host, sizeof(host), "%.2f", 31.08);
    CHECK(std::string(host) == "31,08"); // the locale is at work

    Report report;
    report.hitsFound = report.hitsUsed = report.hitsAgreeing = 6;
    report.lag = 0.03108;
    report.confidence = 0.98;
    report.leakDb = -40.0;
    judge(report);
    CHECK(fixed(31.084, 3) == "31.084");
    CHECK(readNumber("31.084") == 31.084);
    REQUIRE_FALSE(report.reasons.empty());
    INFO(report.reasons.front());
    CHECK(report.reasons.front().find("31.08 ms") != std::string::npos);
}
