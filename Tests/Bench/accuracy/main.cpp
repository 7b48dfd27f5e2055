/// How often Tarry is right, and whether it knows: scenes by tier and seed, and folders of real tracks, with published
/// methods beside it. See --help.
#include "Cache.h"
#include "Csv.h"
#include "Picture.h"
#include "Recorded.h"
#include "Recordings.h"
#include "Tables.h"
#include "Tiers.h"

#include <CLI/CLI.hpp>

#include <atomic>
#include <cstdio>
#include <functional>
#include <memory>
#include <mutex>
#include <thread>
#include <unistd.h>

namespace
{
using namespace tarry::bench;

struct Options
{
    SeedSet set = SeedSet::training;
    unsigned scenes = 30, jobs = 1, firstScene = 0;
    std::size_t listed = 40;
    double rate = 48000.0;
    bool rivals = true;
    std::vector<std::string> tiers;
    std::string real, out, features, sceneFolder, cache;
    std::string kits = "/usr/share/hydrogen/data/drumkits", soundFont = "/usr/share/sounds/sf2/FluidR3_GM.sf2";
};

using Task = std::function<Trial()>; // makes the trial where it is measured: a few are in memory at a time

bool wanted(const Options& options, std::string_view tier)
{
    return options.tiers.empty() || std::find(options.tiers.begin(), options.tiers.end(), tier) != options.tiers.end();
}

/// The scenes of one tier, and a line that says which seeds they have.
template <typename Make>
void addTier(std::vector<Task>& tasks, const Tier& tier, const Options& options, Make make)
{
    const auto count = static_cast<unsigned>(std::ceil(tier.share * options.scenes));
    const unsigned first = firstSeed(tier, options.set) + options.firstScene;
    std::printf("%-18s seeds %u to %u\n", std::string(tier.name).c_str(), first, first + count - 1);
    const auto cache = std::make_shared<const Cache>(options.cache);
    for (unsigned seed = first; seed < first + count; ++seed)
    {
        const auto key =
            std::string(tier.name) + "-" + std::to_string(seed) + "-" + std::to_string(std::lround(options.rate));
        tasks.emplace_back([cache, key, make, seed] { return cache->get(key, [&] { return make(seed); }); });
    }
}

std::vector<Task> plan(const Options& options)
{
    std::vector<Task> tasks;
    for (const auto& tier : madeUpTiers())
        if (wanted(options, tier.name))
            addTier(tasks, tier, options,
                    [&tier, rate = options.rate](unsigned seed) { return makeTrial(tier, seed, rate); });
    if (wanted(options, recordedTier().name))
    {
        const auto drums = std::make_shared<const std::vector<DryDrum>>(readDryDrums(options.kits, options.soundFont));
        if (drums->empty())
            std::printf("recorded           skipped: neither %s nor %s is there\n", options.kits.c_str(),
                        options.soundFont.c_str());
        else
            addTier(tasks, recordedTier(), options, [drums](unsigned seed) { return playRecorded(*drums, seed); });
    }
    if (options.real.empty()) return tasks;
    const auto real = readRealTrials(options.real);
    for (const auto& tier : realTiers())
        for (const auto& trial : real)
            if (trial.tier == tier && wanted(options, tier)) tasks.emplace_back([trial] { return trial; });
    return tasks;
}

void writeScene(const std::filesystem::path& folder, const Trial& trial, const Outcome& outcome)
{
    auto name = trial.name;
    std::replace_if(
        name.begin(), name.end(), [](char c) { return c == ' ' || c == '/' || c == '|'; }, '_');
    const auto place = folder / (trial.tier + "_" + name);
    create_directories(place);
    writeTracks(place / "spot.wav", trial.spot, trial.settings.sampleRate);
    writeTracks(place / "room.wav", trial.room, trial.settings.sampleRate);
    writeOutcomes(place / "outcome.csv", {outcome});
}

std::vector<Outcome> run(const Options& options, const std::vector<Task>& tasks)
{
    std::vector<Outcome> outcomes(tasks.size());
    std::atomic<std::size_t> next{0}, done{0};
    std::mutex lock;
    std::string trouble;
    const bool terminal = isatty(STDERR_FILENO) != 0;
    const auto work = [&]
    {
        for (std::size_t i = next++; i < tasks.size(); i = next++)
        {
            try
            {
                const auto trial = tasks[i]();
                outcomes[i] = measure(trial, options.rivals);
                if (!options.sceneFolder.empty()) writeScene(options.sceneFolder, trial, outcomes[i]);
            }
            catch (const std::exception& e)
            {
                const std::scoped_lock guard(lock);
                trouble = e.what();
                next = tasks.size();
            }
            if (terminal) std::fprintf(stderr, "\r%zu of %zu ", ++done, tasks.size());
        }
    };
    {
        std::vector<std::jthread> threads;
        for (unsigned j = 0; j < options.jobs; ++j) threads.emplace_back(work);
    }
    if (terminal) std::fprintf(stderr, "\r                 \r");
    if (!trouble.empty()) throw std::runtime_error(trouble);
    return outcomes;
}

void report(const Options& options, const std::vector<Outcome>& outcomes)
{
    const auto scores = score(outcomes);
    const auto withLag = calibrate(outcomes, false), all = calibrate(outcomes, true);
    const std::string set = options.set == SeedSet::training ? "training" : "judging";
    std::printf("\n%s%s%s", tables(scores, withLag, all).c_str(), driftLine(outcomes).c_str(),
                failures(outcomes, options.listed).c_str());
    if (!options.features.empty()) writeFeatures(options.features, outcomes);
    if (options.out.empty()) return;

    const std::filesystem::path folder = options.out;
    create_directories(folder);
    writeOutcomes(folder / ("accuracy-" + set + ".csv"), outcomes);
    drawRun(folder / ("accuracy-" + set + ".svg"),
            "Tarry against the truth: " + set + " seeds, " + std::to_string(outcomes.size()) + " scenes", outcomes,
            scores, withLag);
}

std::vector<std::string> knownTiers()
{
    std::vector<std::string> names;
    for (const auto& tier : madeUpTiers()) names.emplace_back(tier.name);
    names.emplace_back(recordedTier().name);
    names.insert(names.end(), realTiers().begin(), realTiers().end());
    return names;
}

void readCommandLine(CLI::App& app, Options& options)
{
    const auto known = knownTiers();
    std::string names;
    for (const auto& tier : known) names.append(" ").append(tier);
    const std::map<std::string, SeedSet> sets{{"training", SeedSet::training}, {"judging", SeedSet::judging}};
    app.add_option("--set", options.set,
                   "training seeds (they may shape the estimator) or judging seeds (they only tell)")
        ->transform(CLI::CheckedTransformer(sets));
    app.add_option("--scenes", options.scenes, "scenes a tier")->check(CLI::Range(1U, seedsPerTier));
    app.add_option("--first", options.firstScene, "begin at this scene of each tier")
        ->check(CLI::Range(0U, seedsPerTier - 1));
    app.add_option("--tiers", options.tiers, "only these, by comma:" + names)->delimiter(',');
    app.add_option("--rate", options.rate, "Hz, of tiers without a rate of their own")
        ->check(CLI::Range(44100.0, 192000.0));
    app.add_option("--real", options.real, "folder of real tracks with reference.csv")->check(CLI::ExistingDirectory);
    app.add_option("--out", options.out, "folder for a CSV, a row a scene, and an SVG picture of the run");
    app.add_option("--features", options.features, "CSV to fit the confidence to");
    app.add_option("--scene-dir", options.sceneFolder, "folder for spot.wav and room.wav of every scene measured");
    app.add_option("--cache", options.cache, "folder to keep made-up scenes in: the next run is many times faster");
    app.add_option("--kits", options.kits, "recorded hits: Debian's hydrogen-drumkits")->capture_default_str();
    app.add_option("--sound-font", options.soundFont, "recorded hits: Debian's fluid-soundfont-gm")
        ->capture_default_str();
    app.add_flag("!--no-rivals", options.rivals, "measure Tarry alone");
    app.add_option("--list", options.listed, "how many failures to list");
    app.add_option("--jobs", options.jobs, "scenes at a time")->check(CLI::Range(1U, 64U));
    app.callback(
        [&options, known, names]
        {
            for (const auto& tier : options.tiers)
                if (std::find(known.begin(), known.end(), tier) == known.end())
                    throw CLI::ValidationError(
                        "--tiers", std::string("no tier is called ").append(tier).append("; there are").append(names));
            if (options.firstScene + options.scenes > seedsPerTier)
                throw CLI::ValidationError("--scenes",
                                           "a tier has " + std::to_string(seedsPerTier) + " seeds in each set");
        });
}
} // namespace

int main(int argc, char** argv)
{
    try
    {
        Options options;
        CLI::App app{"Measures how often Tarry is right, and whether it knows, beside published methods."};
        readCommandLine(app, options);
        CLI11_PARSE(app, argc, argv);
        std::printf("Set: %s seeds\n", options.set == SeedSet::training ? "training" : "judging");
        const auto tasks = plan(options);
        if (tasks.empty()) throw std::runtime_error("nothing to measure: real tiers need --real");
        report(options, run(options, tasks));
    }
    catch (const std::exception& e)
    {
        std::fprintf(stderr, "tarry-accuracy: %s\n", e.what());
        return 2;
    }
    return 0;
}
