#include "Command/PrintSheet.h"

#include "Command/Summary.h"
#include "Core/Delay/Delay.h"
#include "Files/Checksum.h"
#include "Files/Errors.h"
#include "Files/PrintFile.h"
#include "Files/SafeFile.h"
#include "Files/SessionJson.h"
#include "Files/SheetWords.h"

#include <cmath>
#include <fstream>
#include <iostream>
#include <iterator>

namespace tarry::command
{
namespace
{
namespace fs = std::filesystem;

SessionRecord readRecord(const fs::path& sheet)
{
    std::ifstream stream(sheet, std::ios::binary);
    if (!stream) throw InputError(sheet, "cannot be read: give the sheet.json that tarry session wrote");
    return sessionFromJson({std::istreambuf_iterator<char>(stream), std::istreambuf_iterator<char>()}, sheet);
}

bool isPrinted(const SessionRow& row)
{
    return !row.failed() && row.lag && row.decision == Decision::align;
}

/// Where the rows' paths start: where the first spot to be printed is found.
fs::path audioFolder(const SessionRecord& record, const SheetOptions& options)
{
    const auto beside = options.sheet.has_parent_path() ? options.sheet.parent_path() : fs::path(".");
    std::vector<fs::path> places{beside, beside / "..", "."};
    if (!options.audio.empty()) places = {options.audio};
    for (const auto& row : record.rows)
    {
        if (!isPrinted(row)) continue;
        for (const auto& place : places)
            if (fs::exists(place / row.spotFile)) return place;
        throw InputError(row.spotFile, "is not found " +
                                           (options.audio.empty() ? std::string("beside the sheet")
                                                                  : "in " + options.audio.string()) +
                                           ": say where the plan's paths start, with --audio FOLDER");
    }
    throw InputError(options.sheet, "aligns no spot: there is nothing to print");
}

/// A name from a sheet must not lead out of the output folder.
fs::path safeTarget(const SessionRow& row, const fs::path& output)
{
    const fs::path inside =
        fs::path(row.print ? row.print->file : "prints/line-" + std::to_string(row.line) + ".wav").lexically_normal();
    if (inside.is_absolute() || inside.empty() || *inside.begin() == "..")
        throw InputError(inside, "leads out of the output folder: the sheet has been changed by hand");
    return output / inside;
}

/// Prints one; true where it is the same, bit for bit, as the sheet's own.
bool printRow(const SessionRow& row, const SessionRecord& record, const fs::path& file, const fs::path& target,
              Existing existing)
{
    refuseToOverwrite(target, {file});
    std::error_code problem;
    fs::create_directories(target.parent_path(), problem);
    if (!row.spotSha256.empty() && sha256OfFile(file) != row.spotSha256)
        std::cerr << "tarry: " << file.string()
                  << ": is not the file that was measured (another checksum); its lag is set all the same\n";
    AudioReader spot(file, maxSpotChannels);
    const Alignment applied = row.applied();
    const double rate = spot.info().sampleRate;
    // A lag shorter than half the filter is a fraction only where look-ahead leaves room for it: as the sheet's own.
    const bool fraction = row.print && row.print->movedSamples != std::round(row.print->movedSamples);
    PrintJob job;
    job.sides.assign(static_cast<std::size_t>(spot.info().channels), applied);
    job.wholeSamples = record.wholeSamples;
    job.lookAhead = fraction ? Delay::halfLength / rate : 0.0;
    job.sameLength = row.print && row.print->frames == row.spotFrames;
    job.existing = existing;
    job.history = historyOf({row.held()}, row.lean, record.wholeSamples, record.timeStamp);
    if (record.timeStamp)
        copyWithTimeStamp(spot, target, std::llround(applied.lag * rate), job);
    else
        printFile(spot, target, job);
    return row.print && sha256OfFile(target) == row.print->sha256;
}
} // namespace

std::shared_ptr<SheetOptions> addSheetOptions(CLI::App& command, CLI::Option& spot)
{
    const auto options = std::make_shared<SheetOptions>();
    auto* from =
        command
            .add_option(
                "--from", options->sheet,
                "Print all that a recall sheet aligns, by its lags, into the folder -o: another rig set the same")
            ->type_name("SHEET.json")
            ->excludes(&spot);
    command
        .add_option("--audio", options->audio,
                    "With --from: where the plan's paths start; as it is: beside the sheet, above it, or here")
        ->type_name("FOLDER")
        ->needs(from);
    return options;
}

void printSheet(const SheetOptions& options, const std::filesystem::path& output, Existing existing)
{
    const auto record = readRecord(options.sheet);
    const auto audio = audioFolder(record, options);
    int printed = 0, same = 0, left = 0, failed = 0;
    for (const auto& row : record.rows)
    {
        if (!isPrinted(row))
        {
            ++left;
            continue;
        }
        try
        {
            const auto target = safeTarget(row, output);
            if (printRow(row, record, audio / row.spotFile, target, existing)) ++same;
            ++printed;
            std::cout << "Printed " << target.string() << ": " << signedMsWords(row.applied().lag, 3) << ", polarity "
                      << nameOf(row.polarity) << "\n";
        }
        catch (const InputError& problem)
        {
            ++failed;
            std::cerr << "tarry: " << problem.what() << "\n";
        }
    }
    std::cout << printed << " printed, " << same << " of them the same bit for bit as the sheet's own; " << left
              << " not printed, as in the sheet.\n"
              << monitoringCaution << "\n";
    if (failed > 0)
        throw InputError(options.sheet,
                         plural(failed, "spot") + " could not be printed, as above; the others are done");
}
} // namespace tarry::command
