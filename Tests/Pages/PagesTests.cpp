#include "Files/BlendClips.h"
#include "Files/ClipFiles.h"
#include "Files/Fixtures.h"
#include "Files/MadeUpSession.h"
#include "Files/SheetHtml.h"
#include "Files/SheetWords.h"
#include "Files/TrialHtml.h"
#include "Files/TrialResult.h"
#include "Hall/Scene.h"
#include "Support/Catch.h"
#include "Support/Process.h"
#include "Support/Skip.h"

#include <algorithm>
#include <cstdlib>
#include <fstream>
#include <iostream>

using namespace tarry;
using namespace tarry::test;

// The scripts beside this file drive Debian's Chromium through puppeteer-core, with axe-core and the Nu HTML checker;
// setup.sh installs them.
namespace
{
std::string modules()
{
    const char* said = std::getenv("TARRY_PAGES");
    return said != nullptr ? said : TARRY_PAGES_MODULES;
}

/// Where pictures are kept: TARRY_PICTURES, else with the rest of the test's files.
std::string picturesIn(const TemporaryFolder& folder)
{
    const char* said = std::getenv("TARRY_PICTURES");
    return said != nullptr ? said : folder.path().string();
}

ProcessResult drive(const std::string& script, std::vector<std::string> arguments)
{
    std::vector<std::string> words{"/usr/bin/env", "TARRY_PAGES=" + modules(), "TARRY_LOOP=0.5", "node",
                                   std::string(TARRY_PAGES_SCRIPTS) + "/" + script};
    words.insert(words.end(), arguments.begin(), arguments.end());
    auto result = runProgram(words);
    std::cout << result.output; // figures that are told, not judged
    return result;
}

void write(const std::filesystem::path& file, const std::string& text)
{
    std::ofstream(file, std::ios::binary) << text;
}

/// A hall's take as a row of a session, with its first hits to cut: `hits` of them, a second each.
SessionRow hallRow(const TemporaryFolder& folder, SessionRow row, unsigned seed, int hits)
{
    hall::SceneSpec spec;
    spec.seed = seed;
    const auto scene = hall::makeScene(spec);
    const std::string name = "hall-" + std::to_string(seed);
    const auto asDoubles = [](const std::vector<float>& samples)
    { return std::vector<double>(samples.begin(), samples.end()); };
    constexpr int floatWav = SF_FORMAT_WAV | SF_FORMAT_FLOAT;
    makeFile(folder / (name + "-spot.wav"), floatWav, 1, 48000, asDoubles(scene.spot.front()));
    makeFile(folder / (name + "-room.wav"), floatWav, 1, 48000, asDoubles(scene.room.front()));
    row.spotFile = name + "-spot.wav";
    row.roomFile = name + "-room.wav";
    row.spotRate = row.roomRate = 48000;
    row.roomStartsAfter = row.lean = 0.0;
    row.lag = scene.truth.lag;
    row.polarity = scene.truth.polarity;
    row.clips.clear();
    for (int hit = 0; hit < hits; ++hit)
    {
        const double at = scene.truth.hitTimes[static_cast<std::size_t>(hit)];
        row.clips.push_back({at - 0.03, at + 0.47});
    }
    return row;
}
} // namespace

#define TARRY_NEED_BROWSER()                                                                                           \
    TARRY_NEED_PROGRAM(browser, "chromium");                                                                           \
    TARRY_NEED_PROGRAM(node, "node");                                                                                  \
    if (!std::filesystem::exists(modules() + "/node_modules/puppeteer-core"))                                          \
    TARRY_SKIP("there is nothing to drive a browser with: bash Tests/Pages/setup.sh installs it")

TEST_CASE("sheet page: seen, sorted, filtered, heard and printed in a browser, by mouse and by keys", "[outside]")
{
    TARRY_NEED_BROWSER();
    const TemporaryFolder folder;
    auto record = madeUpSession();
    record.rows[0] = hallRow(folder, record.rows[0], 7, 4);
    REQUIRE(writeBlendClips(record.rows[0], folder.path(), folder.path()));
    record.tallies = {{false, "", 4, 64, 51, 0.0000009, 0.68, 0.88, 4, 0, 0.0625},
                      {true, "", 4, 64, 40, 0.06, 0.49, 0.74, 3, 1, 0.625}};
    write(folder / "sheet.html", toHtml(record));
    write(folder / "sheet-500.html", toHtml(madeUpSession(500)));
    const auto seen = drive(
        "sheet.mjs", {(folder / "sheet.html").string(), (folder / "sheet-500.html").string(), picturesIn(folder)});
    INFO(seen.errors);
    REQUIRE(seen.status == 0);
    CHECK(contains(seen.output, "sheet: all well"));

    TARRY_NEED_PROGRAM(pdfToText, "pdftotext");
    for (const char* paper : {"a4", "letter"})
    {
        const auto pages = runProgram({pdfToText, "-layout", picturesIn(folder) + "/sheet-" + paper + ".pdf", "-"});
        REQUIRE(pages.status == 0);
        for (const auto& row : record.rows) // every spot is on paper
            if (!row.recallLine.empty())
            {
                INFO(paper << ": " << rowName(row));
                CHECK(contains(pages.output, row.recallLine.substr(0, 60)));
            }
        CHECK(contains(pages.output, "Caution."));
        CHECK_FALSE(contains(pages.output, "figures only")); // no tools on paper
    }
}

TEST_CASE("trial page: driven to its end by one that hears and one that guesses; the tally tells them apart",
          "[outside]")
{
    TARRY_NEED_BROWSER();
    const TemporaryFolder folder;
    auto record = madeUpSession(4);
    TrialSheet trial{record.version, record.plan, {}, 4};
    for (const std::size_t i : {0U, 1U})
    {
        record.rows[i] = hallRow(folder, record.rows[i], i == 0 ? 7 : 8, 1);
        REQUIRE(writeBlendClips(record.rows[i], folder.path(), folder.path()));
        const auto files = clipFilesOf(record.rows[i]);
        trial.cues.push_back({rowName(record.rows[i]), bytesOf(folder / files[0]), bytesOf(folder / files[1])});
    }
    trial.cues[1].name = record.rows[1].cue = hostileName;
    trial.cues[1].name = rowName(record.rows[1]);
    write(folder / "trial.html", trialHtml(trial));

    std::vector<TrialResult> results;
    const auto listen = [&](const std::string& name, const std::string& kind, const std::string& question,
                            const std::string& seed, bool seen)
    {
        std::vector<std::string> arguments{
            (folder / "trial.html").string(), folder.path().string(), name, kind, question, seed};
        if (seen) arguments.push_back(picturesIn(folder));
        const auto driven = drive("trial.mjs", arguments);
        INFO(driven.errors);
        REQUIRE(driven.status == 0);
        const auto file = folder / ("trial-" + name + "-" + question + "-" + seed + ".json");
        results.push_back(trialResultFrom(bytesOf(file), file)); // refuses another order than C++ makes of the seed
        return results.back();
    };
    const auto count = [](const TrialResult& result)
    { return std::count(result.hits.begin(), result.hits.end(), true); };
    CHECK(count(listen("keen", "hears", "x", "1234567", true)) == 8);
    const auto guessed = count(listen("dull", "guesses", "x", "7654321", false));
    INFO("the guesser was right " << guessed << " times of 8; 0, 1, 7 or 8 come 7 times in 100");
    CHECK(guessed >= 2);
    CHECK(guessed <= 6);
    CHECK(count(listen("fond", "hears", "better", "99", false)) == 8);

    const auto tallies = tally(results, record);
    REQUIRE(tallies.size() == 6);
    CHECK(tallies[0].answers == 16);
    CHECK(tallies[3].preference);
    CHECK(tallies[3].p < 0.01);
}
