#include "Command/Faults.h"
#include "Command/SessionPlan.h"

#include "Files/Checksum.h"
#include "Files/SessionJson.h"
#include "Support/Catch.h"
#include "Support/Skip.h"

#include <algorithm>

using namespace tarry;
using namespace tarry::test;

namespace
{
/// Files under a folder, relative to it, that a test of the name is true of.
std::vector<std::string> filesUnder(const std::filesystem::path& folder, const std::string& part)
{
    std::vector<std::string> names;
    for (const auto& entry : std::filesystem::recursive_directory_iterator(folder))
        if (entry.is_regular_file() && contains(entry.path().filename().string(), part))
            names.push_back(entry.path().lexically_relative(folder).generic_string());
    std::sort(names.begin(), names.end());
    return names;
}

int measuredIn(const ProcessResult& result)
{
    const auto at = result.output.find("Done           ");
    return at == std::string::npos ? -1 : std::stoi(result.output.substr(at + 15));
}

/// Three cues of two spots.
void addScore(SessionPlan& plan)
{
    for (const std::string cue : {"1", "2", "3"})
    {
        plan.add({cue, "A", "side drum", 0.0313, Polarity::inverted});
        plan.add({cue, "A", "tom", 0.0281});
    }
}
} // namespace

TEST_CASE(
    "session: every take measured, pooled by setup and instrument, printed, with a checksum; nothing wants an ear")
{
    SessionPlan plan;
    addScore(plan);
    const auto result = plan.run("out");
    INFO(result.errors << result.output);
    REQUIRE(result.status == 0);
    CHECK(result.errors.empty());
    CHECK(contains(result.output, "6 takes, 6 aligned, 0 left as recorded, 0 failed"));
    CHECK(contains(result.output, "up to 6 dB"));
    CHECK(plan.ears("out").empty());

    const auto sheet = plan.sheet("out");
    REQUIRE(sheet.at("rows").size() == 6);
    REQUIRE(sheet.at("setups").size() == 2);
    for (const auto& row : sheet.at("rows"))
    {
        INFO(row.dump(1).substr(0, 2000));
        const bool side = row.at("instrument") == "side drum";
        CHECK(row.at("lag_ms").get<double>() == Approx(side ? 31.3 : 28.1).margin(0.1));
        CHECK(row.at("polarity") == (side ? "inverted" : "normal"));
        CHECK(row.at("from_pool") == true);
        CHECK(row.at("decision") == "align");
        CHECK(row.at("lag_ms") == sheet.at("setups")[side ? 0 : 1].at("pooled").at("lag_ms"));
        const auto print = plan / "out" / row.at("print").at("file").get<std::string>();
        CHECK(row.at("print").at("sha256") == sha256OfFile(print));
        CHECK(row.at("print").at("bytes") == std::filesystem::file_size(print));
    }
    CHECK(filesUnder(plan / "out", ".tarry-").empty());
    CHECK(filesUnder(plan / "out/prints", ".wav").size() == 6);
    const auto told = tarryCommand({"--version"}).output; // "tarry 0.1.0 (build 1a2b3c4)"
    const auto build = sheet.at("build").get<std::string>();
    CHECK(contains(told, sheet.at("tarry").get<std::string>()));
    CHECK(contains(told, "(build ") != build.empty());
    CHECK(contains(told, build));
    CHECK(contains(bytesOf(plan / "out/sheet.html"), "Written by T" + told.substr(1, told.find('\n') - 1)));
}

TEST_CASE("session: a print is, bit for bit, what tarry print makes of the same lag")
{
    SessionPlan plan;
    plan.add({"1", "A", "", 0.0313, Polarity::inverted, 0.0, 6, ",-2.5,"});
    REQUIRE(plan.run("out", {"--tail"}).status == 0);
    const auto row = plan.sheet("out").at("rows")[0];
    const auto lag = row.at("lag_ms").dump();
    const auto printed = tarryCommand({"print", (plan / "take 1 spot.wav").string(), "-o", (plan / "one.wav").string(),
                                       "--lag-ms", lag, "--polarity", row.at("polarity"), "--lean", "-2.5"});
    INFO(printed.errors);
    REQUIRE(printed.status == 0);
    CHECK(bytesOf(plan / "one.wav") == bytesOf(plan / "out/prints/1/1/take 1 spot.wav"));
}

TEST_CASE("session: prints are as long as their source; by time stamp an inverted spot has each sign changed, no more")
{
    SessionPlan plan;
    plan.add({"1", "A", "", 0.0313, Polarity::inverted});
    REQUIRE(plan.run("same").status == 0);
    REQUIRE(plan.run("stamped", {"--time-stamp"}).status == 0);
    const auto spot = doublesIn(plan / "take 1 spot.wav");
    CHECK(doublesIn(plan / "same/prints/1/1/take 1 spot.wav").size() == spot.size());
    auto stamped = doublesIn(plan / "stamped/prints/1/1/take 1 spot.wav");
    for (double& sample : stamped) sample = -sample;
    CHECK(stamped == spot);
    const AudioReader reader(plan / "stamped/prints/1/1/take 1 spot.wav", 2);
    CHECK(std::abs(static_cast<double>(timeReference(reader.info())) - 0.0313 * SessionPlan::rate) < 6.0);
    CHECK(plan.sheet("stamped").at("rows")[0].at("print").at("time_stamp_only") == true);
}

TEST_CASE("session: a stand that was moved is told once, with by how much and since when; both places have their lag")
{
    SessionPlan plan;
    for (const std::string cue : {"1", "2", "3", "4"}) plan.add({cue, "A", "", cue < "3" ? 0.0310 : 0.0325});
    REQUIRE(plan.run("out").status == 0);
    CHECK(plan.ears("out") == std::vector<int>{4});
    const auto sheet = plan.sheet("out");
    REQUIRE(sheet.at("setups").size() == 2);
    for (int i = 0; i < 4; ++i)
    {
        const auto& row = sheet.at("rows")[static_cast<std::size_t>(i)];
        CHECK(row.at("lag_ms").get<double>() == Approx(i < 2 ? 31.0 : 32.5).margin(0.1));
        CHECK(row.at("moved").is_null() == (i < 2));
        if (i < 2) continue;
        CHECK(row.at("moved").at("by_ms").get<double>() == Approx(1.5).margin(0.1));
        CHECK(row.at("moved").at("since_cue") == "3");
    }
}

TEST_CASE("session: a broken file stops nobody, is in the sheet with why, and wants an ear")
{
    SessionPlan plan;
    addScore(plan);
    std::filesystem::resize_file(plan / "take 3 spot.wav", std::filesystem::file_size(plan / "take 3 spot.wav") / 2);
    const auto result = plan.run("out");
    INFO(result.errors << result.output);
    CHECK(result.status == 0);
    CHECK(contains(result.output, "5 aligned, 0 left as recorded, 1 failed"));
    CHECK(plan.ears("out") == std::vector<int>{4});
    const auto row = plan.sheet("out").at("rows")[2];
    CHECK(contains(row.at("failure"), "take 3 spot.wav: "));
    CHECK_FALSE(contains(row.at("failure"), plan.path().string())); // the same on every machine
    CHECK(row.at("print").is_null());
    CHECK(filesUnder(plan / "out/prints", ".wav").size() == 5);
}

TEST_CASE("session: a faulty plan is told whole, with 2, before anything is done")
{
    SessionPlan plan;
    plan.add({"1"});
    plan.addLine("2,1,A,,nowhere.wav,take 1 room.wav,,,");
    plan.addLine("3,,A,,take 1 spot.wav,take 1 room.wav,sometimes,,");
    const auto result = plan.run("out");
    CHECK(result.status == 2);
    CHECK(result.output.empty());
    for (const char* part : {"plan.csv:3: there is no spot nowhere.wav", "plan.csv:4: 'take' is empty",
                             "plan.csv:4: 'decision' is 'sometimes'", "3 faults"})
    {
        INFO(part << "\n" << result.errors);
        CHECK(contains(result.errors, part));
    }
    CHECK_FALSE(std::filesystem::exists(plan / "out"));
    CHECK(tarryCommand({"session", (plan / "none.csv").string(), "-o", (plan / "out").string()}).status == 2);
    CHECK(tarryCommand({"session", plan.file().string()}).status == 2);
    CHECK(tarryCommand({"session"}).status == 2);
    CHECK(plan.run("out", {"--shard", "3/2"}).status == 2);
}

TEST_CASE("session: what the plan decides is done and listed, whatever the verdict")
{
    SessionPlan plan;
    plan.add({"1", "A", "", 0.0310, Polarity::normal, 0.0, 6, "leave,,as it was"});
    plan.add({"2", "A", "", 0.0310, Polarity::normal, 0.0, 6, "align,8,"});
    REQUIRE(plan.run("out").status == 0);
    CHECK(plan.ears("out").empty());
    const auto sheet = plan.sheet("out");
    CHECK(sheet.at("rows")[0].at("decision") == "leave");
    CHECK(sheet.at("rows")[0].at("decided_by") == "the plan");
    CHECK(sheet.at("rows")[0].at("print").is_null());
    CHECK(sheet.at("rows")[1].at("print").at("moved_samples").get<double>() == Approx(39.0 * 48).margin(5));
    CHECK(filesUnder(plan / "out/prints", ".wav") == std::vector<std::string>{"2/1/take 2 spot.wav"});
}

TEST_CASE("session: resumed, it does only what is missing or has changed, told by content")
{
    SessionPlan plan;
    addScore(plan);
    const auto first = plan.run("out");
    REQUIRE(first.status == 0);
    CHECK(measuredIn(first) == 6);
    const auto sheet = bytesOf(plan / "out/sheet.json");

    auto again = plan.run("out", {"--resume"});
    CHECK(measuredIn(again) == 0);
    CHECK(contains(again.output, "0 prints made, 6 kept"));
    CHECK(bytesOf(plan / "out/sheet.json") == sheet);

    // Touched, but the same: nothing. A print that is gone: that print alone. Another content: that take alone.
    std::filesystem::last_write_time(plan / "take 2 spot.wav", std::filesystem::file_time_type::clock::now());
    CHECK(measuredIn(plan.run("out", {"--resume"})) == 0);
    std::filesystem::remove(plan / "out/prints/1/1/take 2 spot.wav");
    again = plan.run("out", {"--resume"});
    CHECK(measuredIn(again) == 0);
    CHECK(contains(again.output, "1 print made, 5 kept"));
    CHECK(bytesOf(plan / "out/sheet.json") == sheet);
    makeFile(plan / "take 2 spot.wav", floatWav, 1, SessionPlan::rate, Take(77).at(SessionPlan::rate, 0.0, 1.0));
    CHECK(measuredIn(plan.run("out", {"--resume"})) == 1);
    CHECK(measuredIn(plan.run("out", {"--resume", "--reach", "60"})) == 6);
    CHECK(measuredIn(plan.run("out")) == 6); // not asked to go on: all of it
}

TEST_CASE("session: killed at any moment, resumed, it measures no take twice and ends the same", "[outside]")
{
    TARRY_NEED_PROGRAM(timeout, "timeout");
    SessionPlan plan;
    addScore(plan);
    REQUIRE(plan.run("whole").status == 0);
    for (const char* after : {"0.05", "0.2", "0.5"})
    {
        INFO("killed after " << after << " s");
        const std::string out = std::string("out ") + after;
        (void)runProgram({timeout.string(), "-s", "KILL", after, TARRY_COMMAND, "session", plan.file().string(), "-o",
                          (plan / out).string(), "--jobs", "2"});
        const auto done = std::filesystem::exists(plan / out / "work")
                              ? static_cast<int>(filesUnder(plan / out / "work", ".json").size())
                              : 0;
        const auto takes =
            done == 0 ? 0
                      : static_cast<int>(
                            [&]
                            {
                                auto names = filesUnder(plan / out / "work", ".json");
                                return std::count_if(names.begin(), names.end(),
                                                     [](const auto& name) { return name.starts_with("take-"); });
                            }());
        const auto result = plan.run(out, {"--resume"});
        CHECK(result.status == 0);
        CHECK(measuredIn(result) == 6 - takes);
        CHECK(bytesOf(plan / out / "sheet.json") == bytesOf(plan / "whole" / "sheet.json"));
        CHECK(filesUnder(plan / out, ".tarry-").empty());
    }
}

TEST_CASE("session: interrupted by Ctrl-C at each file it puts in place: a clean end that says how to go on",
          "[faults]")
{
    TARRY_NEED_FAULTS();
    SessionPlan plan;
    plan.add({"1", "A", "side drum", 0.0313, Polarity::inverted});
    plan.add({"2", "A", "tom", 0.0281});
    REQUIRE(plan.run("whole").status == 0);
    const auto sheet = bytesOf(plan / "whole/sheet.json");

    int stopped = 0;
    for (int file = 1; file < 100; ++file)
    {
        // Once, as from a keyboard, or twice, as where the program that started this one passes it on.
        const std::string later = file % 2 == 0 ? "-1" : "0";
        const std::string out = "out " + std::to_string(file);
        const auto result = runWithFault(plan.path(), "rename " + std::to_string(file) + " ctrl-c " + later,
                                         {"session", plan.file().string(), "-o", (plan / out).string()});
        INFO("at file " << file << ": " << result.status << " " << result.errors);
        CHECK(filesUnder(plan / out, ".tarry-").empty());
        if (result.status == 0) // nothing is left but the sheets: they are written
        {
            CHECK(result.errors.empty());
            CHECK(bytesOf(plan / out / "sheet.json") == sheet);
            break;
        }
        ++stopped;
        REQUIRE(result.status == 130);
        REQUIRE(isOneLine(result.errors));
        CHECK(contains(result.errors, "--resume"));
        CHECK(result.output.empty());
        CHECK_FALSE(std::filesystem::exists(plan / out / "sheet.html"));
        CHECK(plan.run(out, {"--resume"}).status == 0);
        CHECK(bytesOf(plan / out / "sheet.json") == sheet);
    }
    INFO("stopped at " << stopped << " files");
    CHECK(stopped > 10); // the manifest, what was measured, prints and their clips
}

TEST_CASE("session: a second Ctrl-C, a second later, ends it at once without half-written files", "[faults]")
{
    TARRY_NEED_FAULTS();
    SessionPlan plan;
    plan.add({"1"});
    const auto result = runWithFault(plan.path(), "rename 3 ctrl-c 1100",
                                     {"session", plan.file().string(), "-o", (plan / "out").string()});
    INFO(result.errors);
    CHECK(result.status == 130);
    CHECK(result.errors.empty());
    CHECK(filesUnder(plan / "out", ".tarry-").empty());
}

TEST_CASE("session: shards on several machines, gathered, are one run to the byte, whatever the number of jobs")
{
    SessionPlan plan;
    addScore(plan);
    plan.add({"4", "B", "tom", 0.0250});
    REQUIRE(plan.run("whole", {"--jobs", "4"}).status == 0);
    REQUIRE(plan.run("single", {"--jobs", "1"}).status == 0);
    REQUIRE(plan.run("shards", {"--shard", "2/2"}).status == 0);
    const auto early = tarryCommand({"session", "--gather", (plan / "shards").string()});
    CHECK(early.status == 2);
    CHECK(contains(early.errors, "still to be done"));
    REQUIRE(plan.run("shards", {"--shard", "1/2"}).status == 0);
    const auto gathered = tarryCommand({"session", "--gather", (plan / "shards").string()});
    INFO(gathered.errors);
    REQUIRE(gathered.status == 0);
    CHECK(bytesOf(plan / "shards/sheet.json") == bytesOf(plan / "whole/sheet.json"));
    CHECK(bytesOf(plan / "single/sheet.json") == bytesOf(plan / "whole/sheet.json"));
    CHECK(filesUnder(plan / "shards/prints", "") == filesUnder(plan / "whole/prints", ""));
    CHECK(tarryCommand({"session", "--gather", (plan / "nowhere").string()}).status == 2);
}

TEST_CASE("session: a draft is written beside the files, over no plan, and can be run")
{
    SessionPlan plan;
    plan.add({"1"});
    plan.add({"2"});
    std::filesystem::remove(plan.file());
    const auto result = tarryCommand({"session", "--draft", plan.path().string()});
    INFO(result.errors);
    REQUIRE(result.status == 0);
    CHECK(contains(result.output, "2 spots with their rooms"));
    const auto draft = bytesOf(plan.file());
    CHECK(tarryCommand({"session", "--draft", plan.path().string()}).status == 2);
    CHECK(bytesOf(plan.file()) == draft);
    CHECK(plan.run("out").status == 0);
    CHECK(plan.sheet("out").at("rows").size() == 2);
}
