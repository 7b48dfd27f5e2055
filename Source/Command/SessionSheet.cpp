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
    for (const auto& cue : cues)
        if (std::none_of(record.rows.begin(), record.rows.end(), [&](const auto& row) { return row.cue == cue; }))
            throw InputError(output / "sheet.json", "has no cue " + tarry::quoted(cue));
    TrialSheet trial;
    trial.version = record.version;
    trial.plan = record.plan;
    for (const auto& row : record.rows)
    {
        const bool chosen = cues.empty() || std::find(cues.begin(), cues.end(), row.cue) != cues.end();
        if (!chosen || row.decision != Decision::align || row.clips.empty()) continue;
        const auto files = clipFilesOf(row);
        constexpr const char* again = "run the session again with --resume, its clips are gone";
        trial.cues.push_back({rowName(row), bytesOf(output / files[0], again), bytesOf(output / files[1], again)});
    }
    if (trial.cues.empty()) throw InputError(output, "has no aligned spot to ask about in these cues");
    trial.times = usualTimes(trial.cues.size());
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
