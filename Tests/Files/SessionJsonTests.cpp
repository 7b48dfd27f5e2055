#include "Files/SessionJson.h"

#include "Files/Errors.h"
#include "Files/Fixtures.h"
#include "Support/Catch.h"

#include <nlohmann/json.hpp>

using namespace tarry;
using namespace tarry::test;

namespace
{
SessionRecord fullRecord()
{
    SessionRecord record;
    record.version = "0.1.0";
    record.plan = "plan.csv";
    record.planned = "2026-03-01T20:15:00Z";
    record.timeStamp = true;
    SessionRow row;
    row.line = 2;
    row.cue = "7 \"Salt; Road\", ünïcode";
    row.wished = Decision::leave;
    row.lean = -0.0035;
    row.own.lag = 0.031084123;
    row.own.polarity = Polarity::inverted;
    row.own.verdict = Verdict::align;
    row.own.confidence = 0.9312;
    row.own.reasons = {"5 of 6 hits agree."};
    row.own.driftPpm = -3.25;
    row.lag = 0.0310841;
    row.verdict = Verdict::leave;
    row.tape = TapeFigures{10.7, -0.0001, true, "They agree."};
    row.moved = Moved{0.0012, "4", "1", 12.5, "Moved."};
    row.print = PrintRecord{"prints/7/1/x.wav", std::string(64, 'a'), 123, 5'000'000'000ULL, false, 1492.5, 3, "WAV"};
    row.attack = AttackPicture{-0.01, 0.0002, {{-0.5, 0.0}, {0.25, 1.0}}, {{0.0}, {0.5}}, {{}, {}}};
    row.clips = {{0.25, 1.5}, {2.0, 3.0}};
    record.rows = {row, SessionRow{}};
    SetupRecord setup;
    setup.name = "A";
    setup.pooled.lag = 0.0309;
    record.setups = {setup};
    record.machines = {{"one", "two", 12.5, 0.25, 3, true}};
    return record;
}
} // namespace

TEST_CASE("a session's record comes back from JSON as it was, and its JSON too")
{
    const auto record = fullRecord();
    const auto text = toJson(record);
    const auto back = sessionFromJson(text, "sheet.json");
    CHECK(toJson(back) == text);
    REQUIRE(back.rows.size() == 2);
    const auto& row = back.rows.front();
    CHECK(row.cue == record.rows.front().cue);
    CHECK(row.wished == Decision::leave);
    CHECK(back.rows.back().wished == std::nullopt);
    CHECK(row.own.lag == 0.031084123);
    CHECK(row.own.polarity == Polarity::inverted);
    CHECK(row.verdict == Verdict::leave);
    CHECK(row.lean == -0.0035);
    REQUIRE(row.moved);
    CHECK(row.moved->sinceTime == 12.5);
    REQUIRE(row.print);
    CHECK(row.print->bytes == 5'000'000'000ULL);
    REQUIRE(row.attack);
    CHECK(row.attack->room.high == std::vector<double>{0.25, 1.0});
    REQUIRE(row.clips.size() == 2);
    CHECK(row.clips[1].end == 3.0);
    CHECK(back.setups.front().pooled.lag == 0.0309);
    CHECK(back.machines.front().ppm == 12.5);
    CHECK(back.machines.front().matters);

    const auto json = nlohmann::json::parse(text); // as other programs see it
    CHECK(json.at("schema") == 1);
    CHECK(json.at("rows")[0].at("lag_ms") == 31.0841);
    CHECK(json.at("rows")[0].at("own").at("lag_ms") == 31.084123);
    CHECK(json.at("rows")[1].at("lag_ms").is_null());
}

TEST_CASE("what is no record of a session is refused in one line")
{
    const auto complaint = [](const std::string& text)
    {
        try
        {
            (void)sessionFromJson(text, "x.json");
        }
        catch (const InputError& problem)
        {
            return std::string(problem.what());
        }
        return std::string("nothing was said");
    };
    for (const char* text :
         {"", "{", "[]", "{}", R"({"schema": "1"})", R"({"schema": 1, "rows": [{"polarity": "up"}]})",
          R"({"schema": 1, "rows": [3]})", R"({"schema": 1, "rows": [{"line": []}]})"})
    {
        INFO(text);
        CHECK(contains(complaint(text), "x.json: is no record of a session"));
    }
    CHECK(contains(complaint(R"({"schema": 2})"), "schema 2"));
    CHECK(sessionFromJson(R"({"schema": 1, "of_later_versions": {}, "rows": [{"line": 3, "new": 1}]})", "x")
              .rows.front()
              .line == 3);
}
