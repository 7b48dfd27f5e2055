#include "Command/SessionPlan.h"

#include "Support/Catch.h"
#include "Support/Skip.h"

using namespace tarry;
using namespace tarry::test;

TEST_CASE("session: Snakemake runs a plan as several jobs; the sheet is one run's, to the byte", "[outside]")
{
    TARRY_NEED_PROGRAM(snakemake, "snakemake");
    SessionPlan plan;
    for (const std::string cue : {"1", "2"})
        for (const std::string setup : {"A", "B", "C"}) plan.add({cue, setup, "", setup == "A" ? 0.031 : 0.027});
    REQUIRE(plan.run("whole").status == 0);

    const auto snakemakeRun = [&](const std::string& shards)
    {
        return runProgram({snakemake.string(), "-s", TARRY_WORKFLOW, "--directory", plan.path().string(), "--cores",
                           "2", "--config", "plan=" + plan.file().string(), "out=" + (plan / "out").string(),
                           "shards=" + shards, std::string("tarry=") + TARRY_COMMAND});
    };
    const auto result = snakemakeRun("3");
    INFO(result.output << result.errors);
    REQUIRE(result.status == 0);
    CHECK(bytesOf(plan / "out/sheet.json") == bytesOf(plan / "whole/sheet.json"));
    for (const char* shard : {"1", "2", "3"})
        CHECK(std::filesystem::exists(plan / "out/work/shards" / (std::string(shard) + "-of-3.done")));
    CHECK(contains(snakemakeRun("3").errors, "Nothing to be done"));
}
