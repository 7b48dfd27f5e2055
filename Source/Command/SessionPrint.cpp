#include "Command/SessionPrint.h"

#include "Core/Ground/Text.h"
#include "Core/Ground/Version.h"
#include "Files/BlendClips.h"
#include "Files/Checksum.h"
#include "Files/ClipFiles.h"
#include "Files/Measurement.h"
#include "Files/PrintFile.h"
#include "Files/SessionJson.h"

#include <cmath>

namespace tarry::command
{
namespace
{
namespace fs = std::filesystem;

/// Follows from all that the print's bytes do.
std::string keyOf(const SessionRow& row, const PlanRow& planned, const SessionSettings& settings)
{
    return sha256Of("tarry " + versionAndBuild() + " print 1 " + row.spotSha256 + " " +
                    std::to_string(std::llround(row.applied().lag * 1e9)) + " " + nameOf(row.polarity) + " " +
                    settings.words() + " " + planned.print)
        .substr(0, 32);
}

/// A print's record, kept as the record of one row.
std::string textOf(const PrintRecord& print)
{
    SessionRecord one;
    one.rows.emplace_back().print = print;
    return toJson(one);
}

std::optional<PrintRecord> stillThere(const std::string& text, const fs::path& file)
{
    try
    {
        const auto record = sessionFromJson(text, "print");
        if (record.rows.empty() || !record.rows[0].print || !fs::exists(file)) return std::nullopt;
        if (sha256OfFile(file) != record.rows[0].print->sha256) return std::nullopt;
        return record.rows[0].print;
    }
    catch (const InputError&)
    {
        return std::nullopt;
    }
}
} // namespace

SessionPrint printRow(const SessionRow& row, const PlanRow& planned, const SessionSettings& settings,
                      const fs::path& output, const SessionStore& store, bool reuse)
{
    const auto name = "print-" + keyOf(row, planned, settings) + ".json";
    const fs::path file = output / fs::path(planned.print);
    if (const auto text = reuse ? store.text(name) : std::nullopt)
        if (const auto kept = stillThere(*text, file)) return {*kept, false};

    std::error_code problem;
    fs::create_directories(file.parent_path(), problem);
    if (!fs::is_directory(file.parent_path()))
        throw OutputError(file.parent_path(), "cannot be made a folder; choose another place with -o");
    AudioReader spot(planned.spot, maxSpotChannels);
    const Alignment applied = row.applied();
    PrintRecord print;
    print.file = planned.print;
    print.timeStampOnly = settings.timeStamp;
    PrintJob job;
    job.sides.assign(static_cast<std::size_t>(spot.info().channels), applied);
    job.wholeSamples = settings.wholeSamples;
    job.lookAhead = settings.lookAheadMs / 1e3;
    job.sameLength = !settings.tail;
    job.history = historyOf({row.held()}, row.lean, settings.wholeSamples, settings.timeStamp);
    PrintResult result;
    if (settings.timeStamp)
    {
        const auto samples = std::llround(applied.lag * spot.info().sampleRate);
        result = copyWithTimeStamp(spot, file, samples, job);
        print.movedSamples = static_cast<double>(samples);
        print.frames = spot.info().frames;
    }
    else
    {
        result = printFile(spot, file, job);
        print.movedSamples = result.heard.front();
        print.frames = result.frames;
    }
    print.clipped = result.clipped;
    print.sha256 = sha256OfFile(file);
    print.bytes = fs::file_size(file);
    print.format = spot.info().container() + ", " + std::to_string(spot.info().bits()) + " bit" +
                   (spot.info().isInteger() ? "" : " float");
    store.keepText(name, textOf(print));
    return {print, true};
}

void cutClips(SessionRow& row, const fs::path& planFolder, const fs::path& output, const SessionStore& store,
              bool reuse)
{
    if (!row.lag || row.clips.empty())
    {
        row.clips.clear();
        return;
    }
    std::string words = "tarry " + versionAndBuild() + " clips 1 " + row.spotSha256 + row.roomSha256 + row.roomChannel +
                        " " + std::to_string(std::llround(row.applied().lag * 1e9)) + nameOf(row.polarity);
    for (const auto& clip : row.clips)
        words.append(" ").append(fixed(clip.start, 9)).append(" ").append(fixed(clip.end, 9));
    for (const auto& file : clipFilesOf(row)) words.append(" ").append(file);
    const auto name = "clips-" + sha256Of(words).substr(0, 32) + ".txt";
    const auto kept = reuse ? store.text(name) : std::nullopt;
    const auto files = clipFilesOf(row);
    const bool there = fs::exists(output / files[0]) && fs::exists(output / files[1]);
    bool heard = kept == "some" && there;
    if (!heard && kept != "none")
    {
        heard = writeBlendClips(row, planFolder, output);
        store.keepText(name, heard ? "some" : "none");
    }
    if (!heard) row.clips.clear();
}
} // namespace tarry::command
