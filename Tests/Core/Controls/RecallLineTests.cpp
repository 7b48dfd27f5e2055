#include "Core/Controls/RecallLine.h"

#include "Support/Catch.h"
#include "Support/CommaLocale.h"
#include "Support/Skip.h"

#include <cmath>
#include <random>

using namespace tarry;

namespace
{
RecallLine example()
{
    RecallLine recall;
    recall.version = "0.1.0";
    recall.held = Sides::both({0.031084123, Polarity::inverted});
    recall.confidence = 0.98;
    recall.verdict = Verdict::align;
    recall.controls.lean = 0.008;
    recall.setup.temperature = 20.0;
    recall.trial = "right:12/16,p=0.0384";
    return recall;
}

std::string with(std::string line, const std::string& what, const std::string& instead)
{
    const auto at = line.find(what);
    REQUIRE(at != std::string::npos);
    return line.replace(at, what.size(), instead);
}

std::string refusal(const std::string& line)
{
    try
    {
        (void)readRecallLine(line);
    }
    catch (const RecallError& error)
    {
        return error.what();
    }
    return "nothing was wrong";
}
} // namespace

TEST_CASE("recall line: everything on one line that people can read")
{
    // 31.084123 ms at 343.2 m/s (ISO 9613-1, 20 degrees) is 10.668 m.
    CHECK(writeRecallLine(example()) ==
          "Tarry recall 1: version=0.1.0 lag=31.084123ms polarity=inverted distance=10.67m hear=aligned lean=8.00ms "
          "whole-samples=no each-side=no reach=80.00ms clap=no room-channel=first look-ahead=0.00ms room-late=yes "
          "air=20.0C by-hand=no confidence=0.980 verdict=align trial=right:12/16,p=0.0384 end");
    auto named = example();
    named.names = {"Gran cassa", "Hauptmikrofon Gro\xC3\x9F", "4m12", "", "2026-11-25"};
    named.sampleRate = 48000.0;
    named.setup.tape = 10.67;
    const auto line = writeRecallLine(named);
    INFO(line);
    CHECK(line.find(" spot=Gran_cassa room=Hauptmikrofon_Gro%C3%9F cue=4m12 date=2026-11-25 rate=48000Hz ") !=
          std::string::npos);
    CHECK(line.find(" tape=10.67m ") != std::string::npos);
    CHECK(readRecallLine(line) == named);
    auto nothing = example();
    nothing.held.reset();
    CHECK(writeRecallLine(nothing).find(" lag=none hear=") != std::string::npos);
    CHECK(readRecallLine(writeRecallLine(nothing)) == nothing);
}

TEST_CASE("recall line: what is written is read back, to the nanosecond")
{
    const auto seed = std::random_device{}();
    INFO("seed " << seed);
    std::mt19937_64 random(seed);
    const auto integer = [&](std::int64_t least, std::int64_t most)
    { return std::uniform_int_distribution<std::int64_t>(least, most)(random); };
    const auto toss = [&] { return integer(0, 1) == 1; };
    const auto alignment = [&]
    {
        return Alignment{static_cast<double>(integer(-100000000, 200000000)) / 1.0e9,
                         toss() ? Polarity::inverted : Polarity::normal};
    };
    for (int i = 0; i < 5000; ++i)
    {
        RecallLine recall;
        recall.version = std::to_string(integer(0, 99)) + "." + std::to_string(integer(0, 99)) + ".1-rc";
        if (integer(0, 9) > 0) recall.held = toss() ? Sides::both(alignment()) : Sides{{alignment(), alignment()}};
        recall.byHand = toss();
        recall.confidence = static_cast<double>(integer(0, 1000)) / 1000.0;
        if (const auto verdict = integer(0, 3); verdict > 0) recall.verdict = static_cast<Verdict>(verdict - 1);
        recall.controls.aligned = toss();
        recall.controls.lean = static_cast<double>(integer(-20000000, 30000000)) / 1.0e9;
        recall.controls.wholeSamples = toss();
        recall.controls.eachSide = toss();
        recall.controls.clap = toss();
        recall.controls.reach = static_cast<double>(integer(5000000, 200000000)) / 1.0e9;
        recall.controls.roomChannel = static_cast<int>(integer(-1, 7));
        recall.setup.lookAhead = static_cast<double>(integer(0, 100000000)) / 1.0e9;
        recall.setup.roomArrivesLate = toss();
        recall.setup.temperature = static_cast<double>(integer(-300, 500)) / 10.0;
        const auto name = [&]
        {
            std::string text;
            for (auto left = integer(0, 12); left > 0; --left) text += static_cast<char>(integer(1, 255));
            return text;
        };
        if (toss()) recall.names = {name(), name(), name(), name(), name()};
        if (toss()) recall.sampleRate = static_cast<double>(integer(1, 192000));
        recall.setup.tape = static_cast<double>(integer(0, 10000)) / 100.0;
        if (toss()) recall.trial = "aligned-preferred:" + std::to_string(integer(0, 16)) + "/16,p=0.0768";

        const auto line = writeRecallLine(recall);
        INFO(line);
        CHECK(line.find('\n') == std::string::npos);
        const auto back = readRecallLine(line);
        REQUIRE(back == recall);
        CHECK(writeRecallLine(back) == line);
    }
}

TEST_CASE("recall line: white space around it, a mail's line breaks and later keys do no harm")
{
    const auto line = writeRecallLine(example());
    CHECK(readRecallLine("\n\t  " + line + " \r\n\n") == example());
    CHECK(readRecallLine(with(line, " lean=", "\r\n  lean=")) == example());
    CHECK(readRecallLine(with(line, " lean=", " humidity=45% wind=none lean=")) == example());
    CHECK(readRecallLine(with(line, "distance=10.67m ", "")) == example()); // follows from the lag
}

TEST_CASE("recall line: anything else is refused in one line that says what to do")
{
    const auto line = writeRecallLine(example());
    CHECK(refusal("") == "There is no recall line to read: copy one first.");
    CHECK(refusal(" \n ") == refusal(""));
    for (const auto& other : {"hello", "Tarry", "Tarry recall", "Tarry recall : lag=1ms end", "lag=31ms"})
        CHECK(refusal(other) == "That is no recall line: one begins with 'Tarry recall 1:'.");
    CHECK(refusal(std::string("Tarry recall 1:") + std::string(100000, ' ') + "end").find("That is no") == 0);
    CHECK(refusal(with(line, "recall 1:", "recall 2:")).find("another format (2)") != std::string::npos);
    CHECK(refusal(line.substr(0, line.size() - 4)).find("cut short") != std::string::npos);
    CHECK(refusal(line + "\n" + line) == "The recall line goes on after its 'end': copy one line only.");
    CHECK(refusal(with(line, "lean=8.00ms ", "")) == "The recall line lacks 'lean': copy all of it.");
    CHECK(refusal(with(line, "lean=8.00ms", "lean=8.00ms lean=9.00ms")).find("'lean' twice") != std::string::npos);
    CHECK(refusal(with(line, "lean=8.00ms", "leanms")).find("'leanms' is no 'key=value'") != std::string::npos);
    CHECK(refusal(with(line, "31.084123ms", "310ms")) ==
          "In the recall line 'lag' is '310ms', not a number from -100 to 200 ms.");
    for (const auto* value : {"nan", "inf", "1e999", "", "ms", "31,08ms", "0x1fms", "31 ms", "--3ms"})
    {
        INFO(value);
        CHECK(refusal(with(line, "31.084123ms", value)).find("In the recall line ") == 0);
    }
    CHECK(refusal(with(line, "polarity=inverted", "polarity=upside")) ==
          "In the recall line 'polarity' is 'upside', not one of normal, inverted.");
    CHECK(refusal(with(line, "polarity=inverted ", "")).find("lacks 'polarity'") != std::string::npos);
    CHECK(refusal(with(line, "polarity=", "right-lag=3ms polarity=")).find("lacks 'right-polarity'") !=
          std::string::npos);
}

TEST_CASE("recall line: a line cut anywhere is refused, and none of a stranger's bytes breaks it")
{
    const auto line = writeRecallLine(example());
    for (std::size_t length = 0; length < line.size(); ++length)
        CHECK_THROWS_AS((void)readRecallLine(line.substr(0, length)), RecallError);
    const auto seed = std::random_device{}();
    INFO("seed " << seed);
    std::mt19937_64 random(seed);
    for (int i = 0; i < 20000; ++i)
    {
        auto broken = line;
        for (int n = 0; n < 3; ++n) broken[random() % broken.size()] = static_cast<char>(random() % 256);
        const auto said = refusal(broken);
        for (const char c : said) REQUIRE((c >= ' ' && c <= '~')); // one line, whatever was in it
    }
}

TEST_CASE("recall line: a host's decimal comma changes nothing", "[outside]")
{
    TARRY_NEED_COMMA(comma);
    CHECK(writeRecallLine(example()).find("lag=31.084123ms") != std::string::npos);
    CHECK(readRecallLine(writeRecallLine(example())) == example());
}
