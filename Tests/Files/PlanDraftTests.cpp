#include "Files/PlanDraft.h"

#include "Files/Errors.h"
#include "Files/Fixtures.h"
#include "Files/Plan.h"
#include "Support/Catch.h"
#include "Support/Process.h"

using namespace tarry;
using namespace tarry::test;

namespace
{
void makeSounds(const TemporaryFolder& folder, const std::vector<std::string>& names)
{
    for (const auto& name : names)
    {
        std::filesystem::create_directories((folder / name).parent_path());
        makeFile(folder / name, SF_FORMAT_WAV | SF_FORMAT_PCM_16, 1, 48000, std::vector<int>(4800, 1 << 20));
    }
}

std::string told(const PlanDraft& draft)
{
    std::string text;
    for (const auto& pair : draft.pairs)
        text += pair.cue + "|" + pair.take + "|" + pair.instrument + "|" + pair.spot.generic_string() + "|" +
                pair.room.generic_string() + "\n";
    return text;
}
} // namespace

TEST_CASE("a draft pairs spots with rooms by their names, cue and take told apart")
{
    const TemporaryFolder folder;
    makeSounds(folder, {"3M1_take2_snare.wav", "3M1_take2_ROOM.wav", "3M1_take2_Bass Drum.wav", "3M1_take1_snare.wav",
                        "3M1_take1_Room.wav", "night/cue7/tom t3.wav", "night/cue7/array t3.wav"});
    const auto draft = draftPlan(folder.path());
    CHECK(draft.leftovers.empty());
    CHECK(told(draft) == "3m1|1|snare|3M1_take1_snare.wav|3M1_take1_Room.wav\n"
                         "3m1|2|bass drum|3M1_take2_Bass Drum.wav|3M1_take2_ROOM.wav\n"
                         "3m1|2|snare|3M1_take2_snare.wav|3M1_take2_ROOM.wav\n"
                         "night 7|3|tom|night/cue7/tom t3.wav|night/cue7/array t3.wav\n");
}

TEST_CASE("what a draft cannot pair is said, with why")
{
    const TemporaryFolder folder;
    makeSounds(folder, {"1 snare.wav", "1 room.wav", "1 main.wav", "2 tom.wav", "3 hall.wav"});
    writeBytes(folder / "4 tom.wav", "no sound");
    const auto draft = draftPlan(folder.path());
    CHECK(draft.pairs.empty());
    std::string all;
    for (const auto& left : draft.leftovers) all += left.file.generic_string() + ": " + left.why + "\n";
    INFO(all);
    CHECK(contains(all, "1 snare.wav: several room files go with it as well as 1 main.wav"));
    CHECK(contains(all, "2 tom.wav: no room file has a name that goes with it"));
    CHECK(contains(all, "3 hall.wav: no spot goes with this room"));
    CHECK(contains(all, "4 tom.wav: "));
    CHECK_THROWS_AS(draftPlan(folder / "nowhere"), InputError);
}

TEST_CASE("a drafted plan is a plan without faults, from another folder too")
{
    const TemporaryFolder folder, elsewhere;
    makeSounds(folder, {"größe, \"1\"/snare.wav", "größe, \"1\"/room.wav", "2/snare.wav", "2/room.wav"});
    for (const auto& place : {folder.path(), elsewhere.path()})
    {
        writeBytes(place / "plan.csv", draftPlan(folder.path()).toCsv(folder.path(), place));
        const auto reading = readPlan(place / "plan.csv");
        for (const auto& fault : reading.faults) UNSCOPED_INFO(fault.what);
        CHECK(reading.faults.empty());
        CHECK(reading.plan.rows.size() == 2);
    }
}
