#include "Files/Plan.h"

#include "Files/Errors.h"
#include "Files/Fixtures.h"
#include "Support/Catch.h"
#include "Support/Process.h"

using namespace tarry;
using namespace tarry::test;

namespace
{
/// A folder with a few files that are there.
struct PlanFolder : TemporaryFolder
{
    PlanFolder()
    {
        std::filesystem::create_directories(path() / "cue 1");
        for (const char* name : {"cue 1/side.wav", "cue 1/tom.wav", "cue 1/room.wav", "side.wav", "room.wav"})
            writeBytes(path() / name, "RIFF");
    }

    [[nodiscard]] PlanReading read(const std::string& text) const
    {
        writeBytes(path() / "plan.csv", text);
        return readPlan(path() / "plan.csv");
    }
};

std::string said(const PlanReading& reading)
{
    std::string all;
    for (const auto& fault : reading.faults) all += std::to_string(fault.line) + ": " + fault.what + "\n";
    return all;
}
} // namespace

TEST_CASE("a plan as a spreadsheet writes it: every column, in any order, in any case")
{
    const PlanFolder folder;
    const auto reading = folder.read("\xEF\xBB\xBFRoom;Spot;cue;take;setup;Instrument;room_channel;taped_m;"
                                     "temperature_c;decision;lean_ms;clap;by;note;\r\n"
                                     "cue 1/room.wav;cue 1/side.wav;1;2;A;side drum;Left;10,7;21,5;ALIGN;-3,5;x;Mo;"
                                     "\"soft; hands\";\r\n"
                                     "cue 1\\room.wav;cue 1/tom.wav;1;2;A;;;;;;;;;;\r\n");
    CHECK(said(reading).empty());
    REQUIRE(reading.plan.rows.size() == 2);
    const auto& row = reading.plan.rows[0];
    CHECK(row.line == 2);
    CHECK(row.cue == "1");
    CHECK(row.take == "2");
    CHECK(row.setup == "A");
    CHECK(row.pool() == "A · side drum");
    CHECK(row.roomChannel == "left");
    CHECK(row.taped == 10.7);
    CHECK(row.temperature == 21.5);
    CHECK(row.decision == Decision::align);
    CHECK(row.lean == Approx(-0.0035));
    CHECK(row.clap);
    CHECK(row.by == "Mo");
    CHECK(row.note == "soft; hands");
    CHECK(row.print == "prints/1/2/side.wav");
    CHECK(row.spot == folder.path() / "cue 1/side.wav");
    const auto& other = reading.plan.rows[1];
    CHECK(other.decision == std::nullopt);
    CHECK(other.roomChannel == "first");
    CHECK_FALSE(other.clap);
    CHECK(other.pool() == "A");
    CHECK(reading.plan.changed.size() == std::string("2026-01-01T00:00:00Z").size());
}

TEST_CASE("every fault of a plan is said at once, each with its line")
{
    const PlanFolder folder;
    const auto reading = folder.read("cue,take,setup,spot,room,decision,lean_ms,clap,room_channel,taped_m\n"
                                     "1,1,A,nowhere.wav,cue 1/room.wav,,,,,\n"           // 2
                                     ",1,A,cue 1/side.wav,cue 1/room.wav,,,,,\n"         // 3
                                     "1,2,A,cue 1/side.wav,cue 1/room.wav,maybe,,,,\n"   // 4
                                     "1,3,A,cue 1/side.wav,cue 1/room.wav,,31,,,\n"      // 5
                                     "1,4,A,cue 1/side.wav,cue 1/room.wav,,,perhaps,,\n" // 6
                                     "1,5,A,cue 1/side.wav,cue 1/room.wav,,,,9,\n"       // 7
                                     "1,6,A,cue 1/side.wav,cue 1/room.wav,,,,,nan\n"     // 8
                                     "1,7,A,cue 1/room.wav,cue 1/room.wav,,,,,\n"        // 9
                                     "1,8,A,cue 1,cue 1/room.wav,,,,,\n"                 // 10
                                     "1,9,A,cue 1/side.wav,cue 1/room.wav,,,,,,stray\n"  // 11
                                     "1,10,A,cue 1/side.wav,cue 1/room.wav,,,,,\n"       // 12
                                     "1,10,A,cue 1/tom.wav,cue 1/room.wav,,,,,\n"        // 13
                                     "1,11,A,\"cue 1/tom.wav\"x,cue 1/room.wav,,,,,\n"); // 14
    const auto all = said(reading);
    INFO(all);
    for (const char* part :
         {"2: there is no spot nowhere.wav", "3: 'cue' is empty", "4: 'decision' is 'maybe'",
          "5: 'lean_ms' is '31', not a number from", "6: 'clap' is 'perhaps'", "7: 'room_channel' is '9'",
          "8: 'taped_m' is 'nan'", "9: spot and room are the same file", "10: the spot cue 1 is a folder",
          "11: 'stray' stands under no column", "13: cue 1, take 10, has a spot of setup A in line 12 already",
          "14: text follows a closing quote"})
    {
        INFO(part);
        CHECK(contains(all, part));
    }
    CHECK(reading.faults.size() == 12);
    CHECK(std::is_sorted(reading.faults.begin(), reading.faults.end(),
                         [](const auto& a, const auto& b) { return a.line < b.line; }));
}

TEST_CASE("a plan without its columns, of another encoding, or empty is told as such")
{
    const PlanFolder folder;
    CHECK(contains(said(folder.read("cue,take,spot,room\n1,1,side.wav,room.wav\n")), "1: columns are missing: setup"));
    CHECK(contains(said(folder.read("cue,take,setup,spot,room,decison\n1,1,A,side.wav,room.wav,\n")),
                   "no column is called 'decison'"));
    CHECK(contains(said(folder.read("cue,cue,take,setup,spot,room\n1,1,1,A,side.wav,room.wav\n")), "twice"));
    CHECK(contains(said(folder.read("cue,take,setup,spot,room\nDÃ\xFC,1,A,side.wav,room.wav\n")), "UTF-8"));
    CHECK(contains(said(folder.read("\xFF\xFE"
                                    "c")),
                   "UTF-8"));
    CHECK(contains(said(folder.read("")), "is empty"));
    CHECK(contains(said(folder.read("cue,take,setup,spot,room\n")), "no take follows"));
    CHECK_THROWS_AS(readPlan(folder.path() / "none.csv"), InputError);
    CHECK_THROWS_AS(readPlan(folder.path()), InputError);
}

TEST_CASE("prints mirror the plan, in folders that every file system can hold, and no two share a place")
{
    const PlanFolder folder;
    const auto reading = folder.read("cue,take,setup,instrument,spot,room\n"
                                     "../1:M2,2/3,A,one,side.wav,room.wav\n"
                                     "../1:M2,2/3,A,two,cue 1/side.wav,room.wav\n"
                                     "con.,..,B,,side.wav,room.wav\n");
    CHECK(said(reading).empty());
    REQUIRE(reading.plan.rows.size() == 3);
    CHECK(reading.plan.rows[0].print == "prints/-.-1-M2/2-3/side.wav");
    CHECK(reading.plan.rows[1].print == "prints/-.-1-M2/2-3/line 3 side.wav");
    CHECK(reading.plan.rows[2].print == "prints/con-/--/side.wav");
}
