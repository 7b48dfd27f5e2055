#include "Command/SessionPlan.h"

#include "Files/TrialResult.h"
#include "Support/Catch.h"
#include "Support/Python.h"

#include <filesystem>

using namespace tarry;
using namespace tarry::test;

namespace
{
/// Two cues of two spots; the second cue's tom stays as recorded.
void addScore(SessionPlan& plan)
{
    plan.add({"1", "A", "side drum", 0.0313, Polarity::inverted, 0.0, 6, {}});
    plan.add({"1", "A", "tom", 0.0281, Polarity::normal, 0.0, 6, {}});
    plan.add({"2", "A", "side drum", 0.0313, Polarity::inverted, 0.0, 6, {}});
    plan.add({"2", "A", "tom", 0.0281, Polarity::normal, 0.0, 6, "leave,,"});
}

std::size_t countOf(const std::filesystem::path& folder)
{
    return std::filesystem::exists(folder) ? filesIn(folder) : 0;
}

/// What the page would save, of somebody who is always right.
void saveResult(const std::filesystem::path& file, const std::string& trial, const std::vector<std::string>& cues,
                int times)
{
    nlohmann::json json{{"tarry_trial_result", 1},          {"trial", trial},  {"plan", "plan.csv"},
                        {"listener", file.stem().string()}, {"question", "x"}, {"seed", "42"},
                        {"began", "2026-03-03T08:00:00Z"},  {"cues", cues},    {"times", times}};
    for (const auto& step : trialOrder(42, static_cast<int>(cues.size()), times))
        json["answers"].push_back({{"cue", step.cue}, {"toss", step.toss}, {"answer", step.toss ? "a" : "b"}});
    writeBytes(file, json.dump());
}
} // namespace

TEST_CASE("session: page, table and clips stand beside sheet.json; going on makes no clip again")
{
    SessionPlan plan;
    addScore(plan);
    const auto first = plan.run("out");
    INFO(first.errors << first.output);
    REQUIRE(first.status == 0);
    const auto page = bytesOf(plan / "out/sheet.html"), table = bytesOf(plan / "out/sheet.csv");
    CHECK(contains(page, "Recall sheet: plan.csv"));
    CHECK(contains(table, "schema,line,cue,take"));
    CHECK(countOf(plan / "out/clips") == 8); // the one to leave can be heard as well
    const auto clip = plan / "out/clips/line-2-aligned.flac";
    const auto made = std::filesystem::last_write_time(clip);
    REQUIRE(plan.run("out", {"--resume"}).status == 0);
    CHECK(std::filesystem::last_write_time(clip) == made);
    CHECK(countOf(plan / "out/clips") == 8);
    CHECK(bytesOf(plan / "out/sheet.html") == page);
}

TEST_CASE("session --trial and --tally: chosen cues become a page, its results come back into the sheet")
{
    SessionPlan plan;
    addScore(plan);
    REQUIRE(plan.run("out").status == 0);
    const auto trial = [&](std::vector<std::string> more)
    {
        more.insert(more.begin(), {"session", "--trial", "-o", (plan / "out").string()});
        return tarryCommand(more);
    };
    const auto run = trial({});
    INFO(run.errors << run.output);
    REQUIRE(run.status == 0);
    const auto page = bytesOf(plan / "out/trial.html");
    CHECK(contains(page, "1, take 1: side drum"));
    CHECK(contains(page, "2, take 1: side drum"));
    CHECK_FALSE(contains(page, ": tom")); // one spot of each cue
    REQUIRE(trial({"--cue", "1/tom"}).status == 0);
    CHECK(contains(bytesOf(plan / "out/trial.html"), "cue 1, take 1: tom"));
    const auto unknown = trial({"--cue", "9"});
    CHECK(unknown.status == 2);
    CHECK(contains(unknown.errors, "plan.csv: has no cue '9'"));

    for (const char* name : {"ada.json", "ben.json"}) saveResult(plan / name, "00ff", {"cue 1, take 1: tom"}, 16);
    const auto tally = tarryCommand({"session", "-o", (plan / "out").string(), "--tally", (plan / "ada.json").string(),
                                     (plan / "ben.json").string()});
    INFO(tally.errors << tally.output);
    REQUIRE(tally.status == 0);
    CHECK(contains(tally.output,
                   "All cues, X told 32 of 32 times by 2 listeners, p < 0.0001, 95 % interval 89 to 100 %"));
    REQUIRE(plan.sheet("out").at("tallies").size() == 2);
    CHECK(contains(bytesOf(plan / "out/sheet.html"), "Which of the two is X?"));
    writeBytes(plan / "ada.json", "{}");
    CHECK(tarryCommand({"session", "-o", (plan / "out").string(), "--tally", (plan / "ada.json").string()}).status ==
          2);
}

TEST_CASE("print --from: another rig prints the same, bit for bit, and says what is not as it was")
{
    SessionPlan plan;
    addScore(plan);
    REQUIRE(plan.run("out").status == 0);
    const auto sheet = (plan / "out/sheet.json").string();
    const auto again = tarryCommand({"print", "--from", sheet, "-o", (plan / "again").string()});
    INFO(again.errors << again.output);
    REQUIRE(again.status == 0);
    CHECK(contains(again.output,
                   "3 printed, 3 of them the same bit for bit as the sheet's own; 1 not printed, as in the sheet."));
    const auto recorded = plan.sheet("out"); // lives longer than a range's temporary
    for (const auto& row : recorded.at("rows"))
        if (!row.at("print").is_null())
        {
            const std::string file = row.at("print").at("file");
            CHECK(bytesOf(plan / "again" / file) == bytesOf(plan / "out" / file));
        }

    std::filesystem::create_directory(plan / "elsewhere");
    for (const auto& entry : std::filesystem::directory_iterator(plan.path()))
        if (entry.path().extension() == ".wav")
            std::filesystem::rename(entry.path(), plan / "elsewhere" / entry.path().filename());
    const auto lost = tarryCommand({"print", "--from", sheet, "-o", (plan / "third").string()});
    CHECK(lost.status == 2);
    CHECK(contains(lost.errors, "--audio FOLDER"));
    CHECK(tarryCommand(
              {"print", "--from", sheet, "--audio", (plan / "elsewhere").string(), "-o", (plan / "third").string()})
              .status == 0);
}
