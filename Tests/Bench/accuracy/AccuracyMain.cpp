/// How often Tarry is right, and whether it knows: scenes by family, tier and seed, and folders of real tracks, with
/// published methods beside it. See --help.
#include "Cache.h"
#include "Csv.h"
#include "RunPicture.h"
#include "Tables.h"
#include "Tuning.h"
#include "scenes/Recordings.h"
#include "scenes/Rooms.h"
#include "scenes/Sounds.h"

#include <CLI/CLI.hpp>

#include <atomic>
#include <cstdio>
#include <functional>
#include <memory>
#include <mutex>
#include <set>
#include <thread>
#include <unistd.h>

namespace
{
using namespace tarry::bench;

struct Options
{
    SeedSet set = SeedSet::development;
    unsigned scenes = 30, jobs = 1, firstScene = 0;
    std::size_t listed = 40;
    bool rivals = true, allMethods = false, firstAnswer = false, quiet = false;
    std::vector<std::string> families, tiers, without, scaled;
    bool sensitivity = false, ablation = false;
    std::string real, rooms, out, features, sceneFolder, cache;
    Sounds::Folders sounds;
};

struct Task
{
    std::string family, key;       ///< empty key: a recording
    std::function<Example()> make; ///< where it is measured: a few are in memory at a time
};

bool among(const std::vector<std::string>& asked, std::string_view name)
{
    return asked.empty() || std::find(asked.begin(), asked.end(), name) != asked.end();
}

std::vector<Task> plan(const Options& options, const Material& material)
{
    std::vector<Task> tasks;
    for (const auto& tier : allTiers())
    {
        if (!among(options.families, tier.family) || !among(options.tiers, tier.name)) continue;
        const auto count = static_cast<unsigned>(std::ceil(tier.share * options.scenes));
        const unsigned first = firstSeed(tier, options.set) + options.firstScene;
        for (unsigned seed = first; seed < first + count; ++seed)
            tasks.push_back({std::string(tier.family), std::string(tier.name) + "-" + std::to_string(seed),
                             [&tier, &material, seed] { return tier.make(tier, seed, material); }});
    }
    if (options.real.empty() || !among(options.families, "real")) return tasks;
    const auto real = readRealExamples(options.real);
    for (const auto& tier : realTiers())
        for (const auto& example : real)
            if (example.tier == tier && among(options.tiers, tier))
                tasks.push_back({"real", "", [example] { return example; }});
    return tasks;
}

void writeScene(const std::filesystem::path& folder, const Example& example, const Outcome& outcome)
{
    auto name = example.name;
    std::replace_if(
        name.begin(), name.end(), [](char c) { return c == ' ' || c == '/' || c == '|'; }, '_');
    const auto place = folder / (example.tier + "_" + name);
    create_directories(place);
    writeTracks(place / "spot.wav", example.spot, example.settings.sampleRate);
    writeTracks(place / "room.wav", example.room, example.settings.sampleRate);
    writeOutcomes(place / "outcome.csv", {outcome});
}

/// What a run came to, and which families could not be made here, each with the reason.
struct Results
{
    std::vector<Outcome> outcomes;
    std::map<std::string, std::string> skipped;
};

Results run(const Options& options, const std::vector<Task>& tasks)
{
    const Cache cache(options.cache);
    std::vector<std::optional<Outcome>> outcomes(tasks.size());
    std::map<std::string, std::string> skipped;
    std::atomic<std::size_t> next{0}, done{0};
    std::mutex lock;
    std::string trouble;
    const bool terminal = isatty(STDERR_FILENO) != 0;
    const auto work = [&]
    {
        for (std::size_t i = next++; i < tasks.size(); i = next++)
        {
            const auto& task = tasks[i];
            try
            {
                const auto example = task.key.empty() ? task.make() : cache.get(task.family, task.key, task.make);
                auto outcome = measure(example, options.firstAnswer);
                if (options.rivals)
                {
                    const auto answers = task.key.empty() ? measureRivals(example) : cache.rivals(task.key, example);
                    std::copy(answers.begin(), answers.end(), outcome.answers.begin() + 1);
                }
                if (!options.sceneFolder.empty()) writeScene(options.sceneFolder, example, outcome);
                outcomes[i] = std::move(outcome);
            }
            catch (const Lacking& e)
            {
                const std::scoped_lock guard(lock);
                skipped[task.family] = e.what();
            }
            catch (const std::exception& e)
            {
                const std::scoped_lock guard(lock);
                trouble = task.key + ": " + e.what();
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
    Results results{{}, std::move(skipped)};
    for (auto& outcome : outcomes)
        if (outcome) results.outcomes.push_back(std::move(*outcome));
    return results;
}

void report(const Options& options, const Results& results)
{
    const auto& outcomes = results.outcomes;
    const auto scores = score(outcomes);
    const std::string set(word(options.set));
    std::printf("%s%s%s%s\n", tables(scores, outcomes).c_str(), options.allMethods ? rivalsTable(scores).c_str() : "",
                driftLine(outcomes).c_str(), failures(outcomes, options.listed).c_str());
    for (const auto& [family, why] : results.skipped) std::printf("skipped: %s: %s\n", family.c_str(), why.c_str());
    if (!options.features.empty())
    {
        writeFeatures(options.features, outcomes);
        writeCandidates(options.features + ".candidates", outcomes);
    }
    if (options.out.empty()) return;

    const std::filesystem::path folder = options.out;
    create_directories(folder);
    writeOutcomes(folder / ("accuracy-" + set + ".csv"), outcomes);
    drawRun(folder / ("accuracy-" + set + ".svg"),
            "Tarry against the truth: " + set + " seeds, " + std::to_string(outcomes.size()) + " scenes", outcomes,
            scores, calibrate(outcomes, false));
}

/// The tasks' examples, out of the cache where there is one; those that cannot be made here are left out.
std::vector<std::function<Example()>> makers(const Options& options, const std::vector<Task>& tasks)
{
    const auto cache = std::make_shared<const Cache>(options.cache);
    std::vector<std::function<Example()>> all;
    std::set<std::string> lacking;
    for (const auto& task : tasks)
    {
        if (lacking.count(task.family) > 0) continue;
        const auto make = [cache, task]
        { return task.key.empty() ? task.make() : cache->get(task.family, task.key, task.make); };
        try
        {
            (void)make();
            all.emplace_back(make);
        }
        catch (const Lacking& e)
        {
            lacking.insert(task.family);
            std::printf("skipped: %s: %s\n", task.family.c_str(), e.what());
        }
    }
    return all;
}

/// Names, each once, in order.
std::vector<std::string> known(std::string_view Tier::*what, const std::vector<std::string>& more)
{
    std::vector<std::string> names;
    for (const auto& tier : allTiers())
        if (std::find(names.begin(), names.end(), tier.*what) == names.end()) names.emplace_back(tier.*what);
    names.insert(names.end(), more.begin(), more.end());
    return names;
}

CLI::Validator oneOf(const std::vector<std::string>& names)
{
    std::string all;
    for (const auto& name : names) all += " " + name;
    return {[names, all](std::string& word)
            {
                return std::find(names.begin(), names.end(), word) != names.end()
                           ? std::string()
                           : std::string("none is called ").append(word).append("; there are").append(all);
            },
            "of" + all};
}

void readCommandLine(CLI::App& app, Options& options)
{
    std::map<std::string, SeedSet> sets;
    for (const auto set : {SeedSet::training, SeedSet::development, SeedSet::judging})
        sets[std::string(word(set))] = set;
    app.add_option(
           "--set", options.set,
           "training (shapes the estimator), development (compares it, as often as one likes), judging (for the "
           "published table, once)")
        ->transform(CLI::CheckedTransformer(sets))
        ->capture_default_str();
    app.add_option("--scenes", options.scenes, "scenes a tier")
        ->check(CLI::Range(1U, seedsPerTier))
        ->capture_default_str();
    app.add_option("--first", options.firstScene, "begin at this scene of each tier")
        ->check(CLI::Range(0U, seedsPerTier - 1));
    app.add_option("--families", options.families, "only these, by comma")
        ->delimiter(',')
        ->check(oneOf(known(&Tier::family, {"real"})));
    app.add_option("--tiers", options.tiers, "only these, by comma")
        ->delimiter(',')
        ->check(oneOf(known(&Tier::name, realTiers())));
    app.add_option("--real", options.real, "folder of real tracks with reference.csv")->check(CLI::ExistingDirectory);
    app.add_option("--rooms", options.rooms, "folder of measured responses with manifest.csv")
        ->check(CLI::ExistingDirectory);
    app.add_option("--out", options.out, "folder for a CSV, a row a scene, and an SVG picture of the run");
    app.add_option("--features", options.features, "CSV to fit the confidence to");
    app.add_option("--scene-dir", options.sceneFolder, "folder for spot.wav and room.wav of every scene measured");
    app.add_option("--cache", options.cache, "folder to keep scenes in: the next run is many times faster");
    app.add_option("--kits", options.sounds.kits, "recorded hits: Debian's hydrogen-drumkits")->capture_default_str();
    app.add_option("--banks", options.sounds.banks, "recorded hits: Debian's fluid-soundfont-gm, timgm6mb-soundfont")
        ->capture_default_str();
    app.add_option("--patches", options.sounds.patches, "recorded hits: Debian's freepats")->capture_default_str();
    app.add_flag("!--no-rivals", options.rivals, "measure Tarry alone");
    app.add_flag("--all-methods", options.allMethods, "print every method's table");
    app.add_flag("--first-answer", options.firstAnswer, "also find out how soon the lag is known (many times slower)");
    app.add_option("--list", options.listed, "how many failures to list")->capture_default_str();
    app.add_option("--without", options.without, "leave a stage of the engine out (preset tune; Stages.h)");
    app.add_option("--scale", options.scaled, "constant=factor: scale a constant of the engine (preset tune)");
    app.add_flag("--ablation", options.ablation, "instead: what each stage is worth (preset tune)");
    app.add_flag("--sensitivity", options.sensitivity,
                 "instead: what each constant of the engine is worth, times 0.7 and 1.4 (preset tune)");
    app.add_option("--jobs", options.jobs, "scenes at a time")->check(CLI::Range(1U, 64U));
    app.callback(
        [&options]
        {
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
        const Sounds sounds(options.sounds);
        const MeasuredRooms rooms(options.rooms);
        const Material material{sounds, rooms};
        const auto tasks = plan(options, material);
        if (tasks.empty()) throw std::runtime_error("nothing to measure: the family real needs --real");
        std::printf("%s seeds, scenes %u to %u of each tier\n", std::string(word(options.set)).c_str(),
                    options.firstScene, options.firstScene + options.scenes - 1);
        for (const auto& stage : options.without) leaveOut(stage);
        for (const auto& change : options.scaled) scale(change);
        if (options.ablation || options.sensitivity)
        {
            const auto examples = makers(options, tasks);
            if (options.ablation) std::printf("\n%s", ablation(examples, options.jobs).c_str());
            if (options.sensitivity) std::printf("\n%s", sensitivity(examples, options.jobs).c_str());
            return 0;
        }
        report(options, run(options, tasks));
    }
    catch (const std::exception& e)
    {
        std::fprintf(stderr, "tarry-accuracy: %s\n", e.what());
        return 2;
    }
    return 0;
}
