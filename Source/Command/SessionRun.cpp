#include "Command/SessionRun.h"

#include "Command/CleanEnd.h"
#include "Command/SessionGather.h"
#include "Command/SessionPrint.h"
#include "Command/SessionProgress.h"
#include "Command/Workers.h"
#include "Core/Ground/Version.h"
#include "Files/AudioReader.h"
#include "Files/Checksum.h"
#include "Files/SafeFile.h"
#include "Files/SessionJson.h"
#include "Files/System.h"

#include <algorithm>
#include <atomic>
#include <map>
#include <memory>

namespace tarry::command
{
namespace
{
namespace fs = std::filesystem;

struct Stopped
{
};

/// Every file's checksum once, however many takes share a room. Any thread.
class Checksums
{
public:
    std::string of(const fs::path& file, const std::function<void()>& meanwhile)
    {
        {
            const std::scoped_lock guard(lock);
            if (const auto found = known.find(file); found != known.end()) return found->second;
        }
        const auto sum = sha256OfFile(file, meanwhile); // twice by chance is better than waiting
        const std::scoped_lock guard(lock);
        return known[file] = sum;
    }

private:
    std::mutex lock;
    std::map<fs::path, std::string> known;
};

/// One line of a setup while it is worked on.
struct TakeState
{
    const PlanRow* planned = nullptr;
    std::string key; ///< in the store; empty: failed
    std::string spotSha, roomSha, failure;
    double seconds = 0.0;
};

struct SetupState
{
    PlannedSetup setup;
    std::vector<TakeState> takes;
    std::atomic<int> waiting = 0; ///< takes to measure, then prints to make
    SessionRecord record;
};

class Session
{
public:
    explicit Session(const SessionWork& toDo) : work(toDo), store(toDo.output / "work") {}

    SessionOutcome run()
    {
        const auto all = setupsOf(work.plan, work.settings);
        const auto mine = work.shard ? shareOf(all, *work.shard) : all;
        if (!work.resume && !work.shard) store.clear();
        if (work.resume && !work.shard) removeHalfWritten();
        keepManifest(store, work.plan, work.settings, all);
        const auto begin = std::chrono::steady_clock::now();
        for (const auto& setup : mine) addSetup(setup);
        {
            SessionProgress bar;
            progress = &bar;
            for (const auto& setup : setups)
                for (const auto& take : setup->takes) bar.expect(take.seconds);
            bar.expectTakes(outcome.takes);
            workers.run(work.jobs,
                        [&]
                        {
                            if (CleanEnd::wished()) workers.stop();
                            bar.show();
                        });
        }
        outcome.interrupted = finished < static_cast<int>(setups.size());
        outcome.seconds = std::chrono::duration<double>(std::chrono::steady_clock::now() - begin).count();
        return outcome;
    }

private:
    void addSetup(const PlannedSetup& setup)
    {
        auto& state = *setups.emplace_back(std::make_unique<SetupState>());
        state.setup = setup;
        for (const auto* row : setup.rows) state.takes.push_back({row, {}, {}, {}, {}, lengthOf(row->spot)});
        state.waiting = static_cast<int>(state.takes.size());
        outcome.takes += state.waiting;
        for (auto& take : state.takes) workers.add([this, &state, &take] { measure(state, take); });
    }

    /// s; 0 where it cannot be read: the failure is told in its turn.
    static double lengthOf(const fs::path& spot)
    {
        try
        {
            return AudioReader(spot, maxSpotChannels).info().seconds();
        }
        catch (const InputError&)
        {
            return 0.0;
        }
    }

    void measure(SetupState& state, TakeState& take)
    {
        if (CleanEnd::wished()) return;
        try
        {
            const auto stopHere = [this]
            {
                if (CleanEnd::wished() || workers.isStopped()) throw Stopped();
            };
            take.spotSha = sums.of(take.planned->spot, stopHere);
            take.roomSha = sums.of(take.planned->room, stopHere);
            const auto key = keyOf(take);
            if (!work.resume || !store.take(key))
            {
                double told = 0.0;
                const auto onward = [&](double seconds)
                {
                    stopHere();
                    progress->did(seconds - told);
                    told = seconds;
                };
                store.keep(key, measureTake(*take.planned, work.settings, onward));
                const std::scoped_lock guard(lock);
                ++outcome.measured;
                outcome.sound += take.seconds;
            }
            else
                progress->did(take.seconds);
            take.key = key;
        }
        catch (const InputError& problem)
        {
            take.failure = problem.what();
        }
        catch (const Stopped&)
        {
            return;
        }
        progress->takeDone();
        if (--state.waiting == 0) workers.addFirst([this, &state] { pool(state); });
    }

    std::string keyOf(const TakeState& take) const
    {
        const auto& row = *take.planned;
        SessionSettings measuring = work.settings;
        measuring.wholeSamples = measuring.timeStamp = measuring.tail = false; // of the print alone
        return sha256Of("tarry " + versionAndBuild() + " take 1 " + measuring.words() + " " + take.spotSha + " " +
                        take.roomSha + " " + row.roomChannel + (row.clap ? " clap " : " ") +
                        (row.temperature ? std::to_string(*row.temperature) : "-"))
            .substr(0, 32);
    }

    void pool(SetupState& state)
    {
        std::string content = state.setup.rowsKey;
        for (const auto& take : state.takes) content += take.key + take.failure + '\n';
        const auto name = "pool-" + sha256Of(content).substr(0, 32) + ".json";
        if (const auto text = work.resume ? store.text(name) : std::nullopt)
            state.record = sessionFromJson(*text, name);
        else
        {
            state.record = pooledRecord(state);
            store.keepText(name, toJson(state.record));
        }
        {
            const std::scoped_lock guard(lock);
            for (const auto& row : state.record.rows) outcome.failed += row.failed() ? 1 : 0;
        }
        finishRows(state);
    }

    SessionRecord pooledRecord(const SetupState& state) const
    {
        std::vector<MeasuredTake> takes;
        std::map<int, std::string> keys; // by line
        for (const auto& take : state.takes)
            if (!take.key.empty())
            {
                takes.push_back(filled(take));
                keys[take.planned->line] = take.key;
            }
        const auto hitsOf = [&](const MeasuredTake& take) { return store.hits(keys.at(take.row.line)); };
        SessionRecord record;
        if (!takes.empty()) record = poolTakes(takes, work.plan.changed, hitsOf);
        for (const auto& take : state.takes)
            if (take.key.empty()) record.rows.push_back(failedRow(take));
        return record;
    }

    MeasuredTake filled(const TakeState& take) const
    {
        auto measured = store.take(take.key);
        if (!measured) throw OutputError(work.output, "lost what was kept in its work folder: start again");
        fillFromPlan(*measured, *take.planned);
        measured->row.spotSha256 = take.spotSha;
        measured->row.roomSha256 = take.roomSha;
        return *measured;
    }

    SessionRow failedRow(const TakeState& take) const
    {
        MeasuredTake failed;
        fillFromPlan(failed, *take.planned);
        failed.row.failure = shortened(take.failure);
        failed.row.decidedBy = "Tarry, which could not measure it";
        failed.row.decidedOn = work.plan.changed;
        failed.row.wantsEar = {failed.row.failure};
        return failed.row;
    }

    /// Without the folder that the plan lies in: the same on every machine.
    std::string shortened(std::string text) const
    {
        const auto folder = work.plan.file.parent_path().string();
        if (folder.empty()) return text;
        for (auto at = text.find(folder + "/"); at != std::string::npos; at = text.find(folder + "/"))
            text.erase(at, folder.size() + 1);
        return text;
    }

    void finishRows(SetupState& state)
    {
        std::vector<SessionRow*> measured;
        for (auto& row : state.record.rows)
            if (!row.failed()) measured.push_back(&row);
        state.waiting = static_cast<int>(measured.size());
        if (measured.empty()) return finish(state);
        for (auto* row : measured)
            workers.addFirst(
                [this, &state, row]
                {
                    if (CleanEnd::wished()) return;
                    if (row->decision == Decision::align) print(state, *row);
                    clip(*row);
                    if (--state.waiting == 0) finish(state);
                });
    }

    const PlanRow& plannedOf(const SetupState& state, const SessionRow& row) const
    {
        for (const auto& take : state.takes)
            if (take.planned->line == row.line) return *take.planned;
        throw std::logic_error("a row of no plan");
    }

    void print(SetupState& state, SessionRow& row)
    {
        try
        {
            const auto print = printRow(row, plannedOf(state, row), work.settings, work.output, store, work.resume);
            row.print = print.record;
            if (print.record.clipped > 0)
                row.wantsEar.push_back(std::to_string(print.record.clipped) +
                                       " samples of its print reached full scale and were held there.");
            const std::scoped_lock guard(lock);
            ++outcome.prints;
            outcome.printed += print.made ? 1 : 0;
        }
        catch (const InputError& problem)
        {
            notPrinted(row, problem.what());
        }
        catch (const OutputError& problem)
        {
            notPrinted(row, problem.what());
            const std::scoped_lock guard(lock);
            outcome.couldNotWrite = true;
        }
    }

    /// A sheet without a clip is still a sheet.
    void clip(SessionRow& row)
    {
        try
        {
            cutClips(row, work.plan.file.parent_path(), work.output, store, work.resume);
        }
        catch (const InputError& problem)
        {
            row.notes.push_back("No clips: " + shortened(problem.what()));
            row.clips.clear();
        }
        catch (const OutputError& problem)
        {
            row.notes.push_back("No clips: " + shortened(problem.what()));
            row.clips.clear();
            const std::scoped_lock guard(lock);
            outcome.couldNotWrite = true;
        }
    }

    void notPrinted(SessionRow& row, const std::string& why) const
    {
        row.failure = "Not printed: " + shortened(why);
        row.wantsEar.insert(row.wantsEar.begin(), row.failure);
    }

    void finish(SetupState& state)
    {
        std::stable_sort(state.record.rows.begin(), state.record.rows.end(),
                         [](const auto& a, const auto& b) { return a.line < b.line; });
        keepSetup(store, state.setup, state.record);
        state.record = {}; // memory stays flat
        ++finished;
    }

    /// What an earlier run that was killed left beside its prints.
    void removeHalfWritten() const
    {
        std::error_code problem;
        std::vector<fs::path> left;
        for (const auto& folder : {work.output / "prints", work.output / "work"})
            for (fs::recursive_directory_iterator at(folder, problem), end; !problem && at != end;
                 at.increment(problem))
                if (const auto name = at->path().filename().string();
                    name.starts_with(".") && name.find(".tarry-") != std::string::npos)
                    left.push_back(at->path());
        for (const auto& file : left) fs::remove(file, problem);
    }

    const SessionWork& work;
    SessionStore store;
    Checksums sums;
    Workers workers;
    SessionProgress* progress = nullptr;
    std::vector<std::unique_ptr<SetupState>> setups;
    std::atomic<int> finished = 0; // setups
    std::mutex lock;
    SessionOutcome outcome; // under the lock
};
} // namespace

SessionOutcome runSession(const SessionWork& work)
{
    return Session(work).run();
}
} // namespace tarry::command
