#include "Command/SessionSheet.h"

#include "Core/Ground/Text.h"
#include "Files/ClipFiles.h"
#include "Files/Errors.h"
#include "Files/SafeFile.h"
#include "Files/SessionJson.h"
#include "Files/SheetCsv.h"
#include "Files/SheetHtml.h"
#include "Files/SheetWords.h"
#include "Files/TrialHtml.h"
#include "Files/TrialResult.h"

#include <algorithm>
#include <fstream>
#include <iterator>
#include <set>

namespace tarry::command
{
namespace
{
namespace fs = std::filesystem;

std::string bytesOf(const fs::path& file, const char* whatToDo)
{
    std::ifstream stream(file, std::ios::binary);
    if (!stream) throw InputError(file, std::string("cannot be read: ") + whatToDo);
    return {std::istreambuf_iterator<char>(stream), std::istreambuf_iterator<char>()};
}

SessionRecord recordIn(const fs::path& output)
{
    const auto file = output / "sheet.json";
    return sessionFromJson(bytesOf(file, "name with -o the folder of a session that is done"), file);
}

/// There is something to hear, and aligned is not the same as recorded.
bool canBeTried(const SessionRow& row)
{
    const bool differs = row.applied().lag != 0.0 || row.polarity == Polarity::inverted;
    return row.lag && differs && !row.clips.empty();
}

/// The rows of these cues, each named CUE, or CUE/INSTRUMENT for one spot of it; where none is named, the first aligned
/// spot of each cue, eight at most: with 32 answers ears are tired.
std::vector<const SessionRow*> rowsToTry(const SessionRecord& record, const std::vector<std::string>& cues)
{
    constexpr std::size_t most = 8;
    std::vector<const SessionRow*> rows;
    std::set<std::string> seen;
    for (const auto& row : record.rows)
        if (cues.empty() && rows.size() < most && row.decision == Decision::align && canBeTried(row) &&
            seen.insert(row.cue).second)
            rows.push_back(&row);
    for (const auto& cue : cues)
    {
        bool known = false;
        for (const auto& row : record.rows)
        {
            if (cue != row.cue && cue != row.cue + "/" + spotName(row)) continue;
            known = true;
            if (canBeTried(row) && std::find(rows.begin(), rows.end(), &row) == rows.end()) rows.push_back(&row);
        }
        if (!known)
            throw InputError(record.plan, "has no cue " + tarry::quoted(cue) + ": name a cue, or CUE/INSTRUMENT");
    }
    return rows;
}
} // namespace

void writeSheets(const SessionRecord& record, const fs::path& output)
{
    writeTextFile(output / "sheet.json", toJson(record));
    writeTextFile(output / "sheet.csv", toCsv(record));
    writeTextFile(output / "sheet.html", toHtml(record));
}

std::size_t writeTrial(const fs::path& output, const std::vector<std::string>& cues)
{
    const auto record = recordIn(output);
    const auto rows = rowsToTry(record, cues);
    if (rows.empty()) throw InputError(output, "has nothing to try: no spot of it is aligned and was cut into clips");
    TrialSheet trial{record.version, record.plan, {}, usualTimes(rows.size())};
    for (const auto* row : rows)
    {
        const auto files = clipFilesOf(*row);
        constexpr const char* again = "run the session again with --resume, its clips are gone";
        trial.cues.push_back({rowName(*row), bytesOf(output / files[0], again), bytesOf(output / files[1], again)});
    }
    writeTextFile(output / "trial.html", trialHtml(trial));
    return trial.cues.size();
}

SessionRecord tallyInto(const fs::path& output, const std::vector<fs::path>& results)
{
    auto record = recordIn(output);
    std::vector<TrialResult> answers;
    for (const auto& file : results)
        answers.push_back(trialResultFrom(bytesOf(file, "name the files that the trial page handed back"), file));
    record.tallies = tally(answers, record);
    writeSheets(record, output);
    return record;
}
} // namespace tarry::command
