#include "Command/SessionSummary.h"

#include "Command/SessionProgress.h"
#include "Core/Ground/Text.h"

#include <algorithm>
#include <cmath>
#include <map>

namespace tarry::command
{
namespace
{
std::string number(int count, const char* one, const char* many)
{
    return std::to_string(count) + " " + (count == 1 ? one : many);
}

/// Rows of one pool that say the same are said once.
std::string wantsEar(const SessionRecord& record)
{
    struct Said
    {
        const SessionRow* first;
        int times = 0;
        std::string lastTake;
    };
    std::vector<std::pair<std::string, Said>> list; // in order
    int rows = 0;
    for (const auto& row : record.rows)
    {
        rows += row.wantsEar.empty() ? 0 : 1;
        for (const auto& why : row.wantsEar)
        {
            const auto key = row.setup + '\n' + row.instrument + '\n' + why;
            auto found = std::find_if(list.begin(), list.end(), [&](const auto& each) { return each.first == key; });
            if (found == list.end()) found = list.insert(list.end(), {key, {&row, 0, {}}});
            ++found->second.times;
            found->second.lastTake = "cue " + row.cue + ", take " + row.take;
        }
    }
    if (rows == 0) return "Wants an ear   nothing\n";
    std::string text = "Wants an ear   " + number(rows, "take", "takes") + "\n";
    for (const auto& [key, said] : list)
    {
        const auto& row = *said.first;
        text += "  line " + std::to_string(row.line) + ", cue " + row.cue + ", take " + row.take;
        if (said.times > 1) text += ", and " + std::to_string(said.times - 1) + " more up to " + said.lastTake;
        if (!row.instrument.empty()) text += ", " + row.instrument;
        text += ": " + key.substr(key.rfind('\n') + 1) + "\n";
    }
    return text;
}

std::string setupLine(const SetupRecord& setup)
{
    std::string text = "  " + setup.name + ": ";
    const auto& pooled = setup.pooled;
    if (!pooled.lag) return text + "no lag was found\n";
    text += fixed(*pooled.lag * 1e3, 3) + " ms, " + nameOf(pooled.polarity) + ", " + nameOf(pooled.verdict) + ", " +
            (pooled.confidence > 0.99 ? "over 99" : fixed(std::floor(100.0 * pooled.confidence), 0)) + " % sure; ";
    if (setup.byClap) text += "by a clap; ";
    return text + std::to_string(setup.takesAgreeing) + " of " + number(setup.takes, "sure take", "sure takes") +
           " agree, from cue " + setup.firstCue + " to cue " + setup.lastCue + "\n";
}
} // namespace

std::string summaryOf(const SessionRecord& record)
{
    int aligned = 0, failed = 0;
    for (const auto& row : record.rows)
    {
        failed += row.failed() ? 1 : 0;
        aligned += row.decision == Decision::align && !row.failed() ? 1 : 0;
    }
    const int all = static_cast<int>(record.rows.size());
    std::string text = "Session        " + record.plan + ": " + number(all, "take", "takes") + ", " +
                       std::to_string(aligned) + " aligned, " + std::to_string(all - aligned - failed) +
                       " left as recorded, " + std::to_string(failed) + " failed\n";
    text += wantsEar(record) + "Setups\n";
    for (const auto& setup : record.setups) text += setupLine(setup);
    for (const auto& machine : record.machines)
        if (machine.matters)
            text += "Two clocks     " + machine.spot + " against " + machine.room + ": " + fixed(machine.ppm, 2) +
                    " ppm (give or take " + fixed(machine.ppmSd, 2) + ", " + number(machine.takes, "take", "takes") +
                    ")\n";
    return text;
}

std::string workText(const SessionOutcome& outcome)
{
    const int kept = outcome.takes - outcome.measured - outcome.failed;
    std::string text = "Done           " + number(outcome.measured, "take", "takes") + " measured, " +
                       std::to_string(std::max(0, kept)) + " kept from before; " +
                       number(outcome.printed, "print", "prints") + " made, " +
                       std::to_string(outcome.prints - outcome.printed) + " kept; in " + durationText(outcome.seconds);
    if (outcome.seconds > 0.0 && outcome.sound > 0.0)
        text += ", " + fixed(outcome.sound / outcome.seconds, 0) + " times as fast as real time";
    return text + "\n";
}
} // namespace tarry::command
