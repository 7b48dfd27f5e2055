#include "Command/DrumTake.h"

#include "Core/Ground/Statistics.h"
#include "Support/Catch.h"

#include <algorithm>
#include <cmath>
#include <iostream>
#include <nlohmann/json.hpp>

using namespace tarry;
using namespace tarry::test;

namespace
{
using Json = nlohmann::json;

/// The made-up score, worked through once for all tests of this file.
struct Score
{
    Score()
    {
        made = tarryCommand({"hall", "--session", "-o", (folder / "score").string(), "--seconds", "60"});
        if (made.status != 0) return;
        result = tarryCommand({"session", (folder / "score/plan.csv").string(), "-o", (folder / "out").string()});
        if (result.status != 0) return;
        truth = Json::parse(bytesOf(folder / "score/truth.json"));
        sheet = Json::parse(bytesOf(folder / "out/sheet.json"));
    }

    static const Score& get()
    {
        static const Score score;
        return score;
    }

    TemporaryFolder folder;
    ProcessResult made, result;
    Json truth, sheet;
};
} // namespace

TEST_CASE("a made-up score: every lag right, every fault found, and nothing else wants an ear")
{
    const auto& score = Score::get();
    INFO(score.made.errors << score.result.errors << score.result.output);
    REQUIRE(score.made.status == 0);
    REQUIRE(score.result.status == 0);
    const auto& rows = score.sheet.at("rows");
    REQUIRE(rows.size() == 48);
    bool movedTold = false;
    for (std::size_t i = 0; i < rows.size(); ++i)
    {
        const auto& row = rows[i];
        const auto& truth = score.truth.at("takes")[i];
        INFO("cue " << row.at("cue") << ", " << row.at("instrument") << ": lag " << row.at("lag_ms") << " ms, truth "
                    << truth.at("lag_ms") << "; wants " << row.at("wants_ear"));
        REQUIRE(row.at("line") == truth.at("line"));
        const bool ear = !row.at("wants_ear").empty();
        if (truth.at("broken") == true)
        {
            CHECK(contains(row.at("failure"), "cut short"));
            CHECK(ear);
        }
        else if (truth.at("has_one_lag") == false)
        {
            CHECK(row.at("verdict") != "align");
            CHECK(row.at("decision") == "leave");
            CHECK(ear);
        }
        else
        {
            CHECK(row.at("failure") == "");
            REQUIRE(row.at("lag_ms").is_number());
            CHECK(std::abs(row.at("lag_ms").get<double>() - truth.at("lag_ms").get<double>()) < 0.5);
            const bool moved = truth.at("moved") == true, drifts = truth.at("drift_ppm") != 0.0;
            if (!drifts) CHECK(row.at("decision") == "align"); // takes on two clocks keep their own word
            CHECK(row.at("moved").is_null() != moved);
            CHECK(ear == ((moved && !movedTold) || drifts)); // a move is told at the first take alone
            movedTold = movedTold || moved;
            if (moved) CHECK(row.at("moved").at("since_cue") == "4");
        }
    }
    CHECK(movedTold);
}

TEST_CASE("a made-up score: one pair of clocks that differs, within 2 ppm")
{
    const auto& score = Score::get();
    REQUIRE(score.result.status == 0);
    int drifting = 0;
    for (const auto& machine : score.sheet.at("machines"))
    {
        INFO(machine.dump());
        const bool theOne = machine.at("spot") == "spot of B · tom";
        drifting += theOne ? 1 : 0;
        CHECK(machine.at("matters") == theOne);
        if (theOne) CHECK(machine.at("ppm").get<double>() == Approx(25.0).margin(2.0));
    }
    CHECK(drifting == 1);
}

TEST_CASE("a made-up score: in soft cues the pooled lags' median error is at most half of the takes' own")
{
    const auto& score = Score::get();
    REQUIRE(score.result.status == 0);
    std::vector<double> alone, pooled;
    for (std::size_t i = 0; i < score.sheet.at("rows").size(); ++i)
    {
        const auto& row = score.sheet.at("rows")[i];
        const auto& truth = score.truth.at("takes")[i];
        if (truth.at("soft") == false || row.at("from_pool") == false) continue;
        const double lag = truth.at("lag_ms");
        REQUIRE(row.at("own").at("lag_ms").is_number());
        alone.push_back(std::abs(row.at("own").at("lag_ms").get<double>() - lag));
        pooled.push_back(std::abs(row.at("lag_ms").get<double>() - lag));
        std::cout << "cue " << row.at("cue") << ", " << row.at("instrument") << ": alone " << 1e3 * alone.back()
                  << " us off, pooled " << 1e3 * pooled.back() << " us\n";
    }
    REQUIRE(alone.size() >= 7); // two soft cues of four spots; one spot is on clocks of its own
    const double medianAlone = quantile(alone, 0.5), medianPooled = quantile(pooled, 0.5);
    INFO("median error alone " << medianAlone << " ms, pooled " << medianPooled << " ms");
    CHECK(medianPooled <= 0.5 * medianAlone);
    CHECK(*std::max_element(pooled.begin(), pooled.end()) <= 0.5 * *std::max_element(alone.begin(), alone.end()));
}
