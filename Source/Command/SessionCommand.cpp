#include "Command/SessionCommand.h"

#include "Command/CleanEnd.h"
#include "Command/Options.h"
#include "Command/SessionGather.h"
#include "Command/SessionRun.h"
#include "Command/SessionSheet.h"
#include "Command/SessionSummary.h"
#include "Command/Summary.h"
#include "Core/Ground/Text.h"
#include "Files/Errors.h"
#include "Files/PlanDraft.h"
#include "Files/SafeFile.h"
#include "Files/SheetWords.h"

#include <algorithm>
#include <charconv>
#include <iostream>
#include <memory>
#include <thread>

namespace tarry::command
{
namespace
{
namespace fs = std::filesystem;
constexpr int faultyPlan = 2, couldNotWrite = 3, interrupted = 130; // 128 + SIGINT, as shells count

struct SessionOptions
{
    fs::path plan, output, draft, gather;
    SessionSettings settings;
    int jobs = 0; ///< 0: all cores
    bool resume = false;
    std::string shard;
    bool trial = false;
    std::vector<std::string> cues; ///< of the trial; empty: all
    std::vector<fs::path> tally;
};

/// "2/5": the second of five.
std::optional<Shard> shardFrom(const std::string& text)
{
    const auto slash = text.find('/');
    if (slash == std::string::npos) return std::nullopt;
    const auto whole = [](std::string_view part) -> std::size_t
    {
        std::size_t value = 0;
        const auto [end, error] = std::from_chars(part.data(), part.data() + part.size(), value);
        return error == std::errc() && end == part.data() + part.size() ? value : 0;
    };
    const Shard shard{whole(std::string_view(text).substr(0, slash)), whole(std::string_view(text).substr(slash + 1))};
    const bool good = shard.number >= 1 && shard.number <= shard.of && shard.of <= 10000;
    return good ? std::optional(shard) : std::nullopt;
}

int draft(const SessionOptions& options)
{
    const auto draft = draftPlan(options.draft);
    const fs::path folder = options.output.empty() ? options.draft : options.output;
    const fs::path file = folder / "plan.csv";
    if (fs::exists(file))
        throw InputError(file, "is there already, and a draft writes over no plan: move it away, or give another "
                               "folder with -o");
    if (draft.pairs.empty()) throw InputError(options.draft, "holds no spot that goes with a room by its name");
    std::error_code problem;
    fs::create_directories(folder, problem);
    writeTextFile(file, draft.toCsv(options.draft, folder));
    std::cout << "Drafted " << file.string() << ": " << draft.pairs.size()
              << (draft.pairs.size() == 1 ? " spot with its room.\n" : " spots with their rooms.\n");
    if (!draft.leftovers.empty()) std::cout << "Not in it:\n";
    for (const auto& left : draft.leftovers) std::cout << "  " << left.file.string() << ": " << left.why << "\n";
    std::cout << "Go over it before it is run: every take has setup A, as if no stand had moved between them.\n";
    return 0;
}

Plan readFaultless(const fs::path& file)
{
    auto reading = readPlan(file);
    if (reading.faults.empty()) return std::move(reading.plan);
    for (const auto& fault : reading.faults)
    {
        std::cerr << file.string() << ":";
        if (fault.line > 0) std::cerr << fault.line << ":";
        std::cerr << " " << fault.what << "\n";
    }
    const auto count = reading.faults.size();
    throw InputError(file, std::to_string(count) + (count == 1 ? " fault" : " faults") +
                               ", as above; nothing was done: mend the plan and start again");
}

void finish(const SessionRecord& record, const fs::path& output)
{
    writeSheets(record, output);
    std::cout << summaryOf(record) << "Sheet          " << (output / "sheet.html").string()
              << ", sheet.csv, sheet.json\n"
              << monitoringCaution << "\n";
}

int gatherShards(const SessionOptions& options)
{
    finish(gather(options.gather), options.gather);
    return 0;
}

int trial(const SessionOptions& options)
{
    const auto spots = writeTrial(options.output, options.cues);
    std::cout << "Blind trial    " << (options.output / "trial.html").string() << ": "
              << plural(static_cast<int>(spots), "spot")
              << ". Send it to whoever has ears; what it hands back goes to --tally.\n"
              << monitoringCaution << "\n";
    return 0;
}

int tallyResults(const SessionOptions& options)
{
    const auto record = tallyInto(options.output, options.tally);
    for (const auto& each : record.tallies)
        std::cout << (each.name.empty() ? "All cues" : each.name) << ", "
                  << (each.preference ? "aligned preferred " : "X told ") << each.hits << " of " << each.answers
                  << " times by " << plural(each.listeners, "listener") << ", " << chanceWords(each.p)
                  << ", 95 % interval " << fixed(100.0 * each.low, 0) << " to " << fixed(100.0 * each.high, 0)
                  << " %\n";
    std::cout << "Sheet          " << (options.output / "sheet.html").string() << ", sheet.csv, sheet.json\n";
    return 0;
}

int work(const SessionOptions& options)
{
    const CleanEnd cleanEnd;
    SessionWork work;
    work.plan = readFaultless(options.plan);
    work.settings = options.settings;
    work.output = options.output;
    work.resume = options.resume;
    work.jobs = options.jobs > 0 ? options.jobs : static_cast<int>(std::max(1U, std::thread::hardware_concurrency()));
    if (!options.shard.empty()) work.shard = shardFrom(options.shard);

    const auto outcome = runSession(work);
    if (outcome.interrupted || (CleanEnd::wished() && !work.shard))
    {
        std::cerr << "tarry: session interrupted; what is done is kept, go on with --resume\n";
        return interrupted;
    }
    if (work.shard)
        std::cout << "Shard " << options.shard << ": " << outcome.takes << " takes. When all shards are done: tarry "
                  << "session --gather " << options.output.string() << "\n";
    else
        finish(gather(options.output), options.output);
    std::cout << workText(outcome);
    return outcome.couldNotWrite ? couldNotWrite : 0;
}

int run(const SessionOptions& options)
{
    if (!options.draft.empty()) return draft(options);
    if (!options.gather.empty()) return gatherShards(options);
    if (options.trial || !options.tally.empty())
    {
        if (options.output.empty()) throw InputError("session: say which session is meant: -o FOLDER");
        return options.trial ? trial(options) : tallyResults(options);
    }
    if (options.plan.empty())
        throw InputError("session: name a PLAN, or make a first one: tarry session --draft FOLDER");
    if (options.output.empty()) throw InputError("session: say where sheet and prints are to go: -o FOLDER");
    return work(options);
}
} // namespace

CLI::App* addSessionCommand(CLI::App& app, int& exitStatus)
{
    auto* command = app.add_subcommand("session", "Measure and print a plan of many takes in one go");
    const auto options = std::make_shared<SessionOptions>();
    command->add_option("PLAN", options->plan, "What to work through, a CSV file (see below)")->type_name("");
    command->add_option("-o,--output", options->output, "Folder for sheet, prints and work; made where it is missing")
        ->type_name("FOLDER");
    command->add_option("--jobs", options->jobs, "Takes worked on at once, 1 to 256; as it is: one for each core")
        ->type_name("N")
        ->check(between(1.0, 256.0) & CLI::TypeValidator<int>());
    auto* resume = command->add_flag("--resume", options->resume, "Do only what is missing or has changed");
    auto* shard =
        command->add_option("--shard", options->shard, "Do the K-th of N shares, by whole setups; then --gather")
            ->type_name("K/N")
            ->check(CLI::Validator(
                [](const std::string& text)
                { return shardFrom(text) ? std::string() : "'" + text + "' is no share: give K/N as 2/5"; },
                ""));
    auto* draft =
        command->add_option("--draft", options->draft, "Write a first plan.csv by pairing the file names in a folder")
            ->type_name("FOLDER");
    auto* gather =
        command->add_option("--gather", options->gather, "Join what the shards left in a folder")->type_name("FOLDER");
    draft->excludes(gather)->excludes(shard)->excludes(resume);
    gather->excludes(shard)->excludes(resume);
    auto* trial =
        command->add_flag("--trial", options->trial,
                          "Write trial.html into a done session's folder (-o): do listeners tell aligned from "
                          "as recorded, and which do they prefer?");
    command
        ->add_option("--cue", options->cues,
                     "Cues of the trial, or CUE/INSTRUMENT; as it is: a spot of each cue, eight at most")
        ->type_name("CUE...")
        ->needs(trial);
    auto* tally = command->add_option("--tally", options->tally, "Pool results of the trial into the sheet (-o)")
                      ->type_name("FILE...");
    for (auto* other : {draft, gather, shard}) trial->excludes(other);
    for (auto* other : {draft, gather, shard, static_cast<CLI::Option*>(trial)}) tally->excludes(other);
    auto* whole = command->add_flag("--whole-samples", options->settings.wholeSamples,
                                    "Round lags to whole samples, so that spots pass bit for bit");
    command
        ->add_flag("--time-stamp", options->settings.timeStamp,
                   "Leave the samples alone and move the broadcast wave's time stamp by whole samples (WAV)")
        ->excludes(whole);
    command->add_flag("--tail", options->settings.tail,
                      "Prints are as much longer as the spot moves; as it is: as long as their source");
    command
        ->add_option("--reach", options->settings.reachMs,
                     "Longest lag that is looked for, " + rangeOf(setting(&Controls::reach)) + " ms")
        ->type_name("MS")
        ->check(within(setting(&Controls::reach)))
        ->capture_default_str();
    command
        ->add_option("--look-ahead", options->settings.lookAheadMs,
                     "How much earlier than the spot the room may be, " + rangeOf(setting(&Setup::lookAhead)) + " ms")
        ->type_name("MS")
        ->check(within(setting(&Setup::lookAhead)))
        ->capture_default_str();
    command->footer(
        std::string("The plan's first line names the columns: ") + planColumns +
        ".\nPaths are relative to the plan. Takes of one setup and instrument, nothing moved, share their evidence.\n"
        "decision: align or leave; empty: by the verdict. clap yes: a clap stands at the take's head.\n\n"
        "  tarry session --draft cues\n"
        "  tarry session cues/plan.csv -o morning\n"
        "  tarry session cues/plan.csv -o morning --resume\n"
        "  tarry session --trial -o morning --cue 7\n"
        "  tarry session --tally *.json -o morning\n\n" +
        monitoringCaution +
        "\n\nExit status: 0 done, with what wants an ear listed, files that failed among it; 2 a faulty plan (nothing "
        "is done) or bad usage; 3 something could not be written; 130 interrupted.");
    command->callback([options, &exitStatus] { exitStatus = run(*options); });
    return command;
}
} // namespace tarry::command
