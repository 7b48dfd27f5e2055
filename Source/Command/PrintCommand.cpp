#include "Command/PrintCommand.h"

#include "Command/MeasureCommand.h"
#include "Command/Options.h"
#include "Command/PrintSheet.h"
#include "Command/Progress.h"
#include "Command/Summary.h"
#include "Core/Controls/RecallLine.h"
#include "Core/Controls/Sides.h"
#include "Core/Delay/Delay.h"
#include "Core/Ground/Text.h"
#include "Files/AudioWriter.h"
#include "Files/PrintFile.h"
#include "Files/ReportJson.h"
#include "Files/SafeFile.h"

#include <cmath>
#include <iostream>
#include <memory>

namespace tarry::command
{
namespace
{
/// Fails early, before a long file has been measured.
void checkOutput(const PrintOptions& options)
{
    const auto& measure = options.measure;
    std::vector<std::filesystem::path> inputs{options.spot};
    if (!measure.room.empty()) inputs.push_back(measure.room);
    refuseToOverwrite(options.output, inputs);
    checkReports(measure, inputs, options.output);
    checkEnding(options.output);
    const SafeFile canBeThere(options.output, options.overwrite ? Existing::replace : Existing::refuse);
}

std::string firstReason(const Report& report)
{
    return report.reasons.empty() ? std::string("no reason given") : report.reasons.front();
}

/// The alignment of each channel of the spot that was asked for with numbers or a recall line.
std::vector<Alignment> givenAlignment(const PrintOptions& options, const AudioInfo& spot)
{
    const auto channels = static_cast<std::size_t>(spot.channels);
    if (!options.recall.empty())
    {
        const auto sides = readRecallLine(options.recall).held->side;
        return {sides.begin(), sides.begin() + spot.channels};
    }
    const auto polarity = options.polarity == nameOf(Polarity::normal) ? Polarity::normal : Polarity::inverted;
    return std::vector<Alignment>(channels, {wholeNanoseconds(*options.lagMs / 1e3), polarity});
}

/// Lean, rounding and look-ahead as the recall line has them.
PrintOptions withRecall(PrintOptions options)
{
    if (options.recall.empty()) return options;
    try
    {
        const auto recall = readRecallLine(options.recall);
        if (!recall.held) throw InputError("the recall line holds no lag ('lag=none'): there is nothing to print by");
        options.leanMs = recall.controls.lean * 1e3;
        options.wholeSamples = recall.controls.wholeSamples;
        options.measure.lookAheadMs = recall.setup.lookAhead * 1e3;
        return options;
    }
    catch (const RecallError& problem)
    {
        throw InputError(problem.what());
    }
}

/// Throws where what was measured is nothing to print by.
void checkMeasured(const PrintOptions& options, const Report& report)
{
    if (!report.lag)
    {
        const std::string line = "was not printed, no lag was measured (" + firstReason(report) +
                                 "): print a take with clear hits or a clap, or give --lag-ms";
        if (options.anyway) throw InputError(options.spot, line); // there is nothing to insist on
        throw NotAdvised(options.spot, line);
    }
    if (report.verdict != Verdict::align && !options.anyway)
        throw NotAdvised(options.spot, std::string("was not printed, the verdict is '") + nameOf(report.verdict) +
                                           "' (" + firstReason(report) + "): --anyway prints it all the same");
}

std::string earlierOrLater(double samples, int sampleRate)
{
    return fixed(std::abs(samples) / sampleRate * 1e3, 3) + " ms " + (samples < 0 ? "earlier" : "later") + " (" +
           fixed(std::abs(samples), 3) + " samples)";
}

void tellRendered(const PrintOptions& options, const AudioInfo& spot, const Printed& printed, std::ostream& out)
{
    for (std::size_t i = 0; i < printed.sides.size(); ++i)
    {
        const bool alike = printed.sides.size() < 2 || printed.sides[0] == printed.sides[1];
        if (alike && i > 0) break;
        const char* which = alike ? "the spot" : i == 0 ? "its left side" : "its right side";
        const double moved = printed.samples[i];
        out << "Printed " << options.output.string() << ": " << which << " " << earlierOrLater(moved, spot.sampleRate)
            << ", polarity " << nameOf(printed.sides[i].polarity) << ".\n";
        const double asked = printed.sides[i].lag * spot.sampleRate;
        const bool fell = !options.wholeSamples && moved == std::round(moved) &&
                          std::abs(asked - moved) > Delay::wholeTolerance * spot.sampleRate;
        if (fell)
            out << "A lag below " << fixed(Delay::halfLength * 1e3 / spot.sampleRate, 3)
                << " ms is shorter than half the filter, so it fell to the nearest whole sample: " << fixed(asked, 3)
                << " to " << fixed(moved, 0) << ". --look-ahead 2 leaves room for the fraction.\n";
    }
}

void tellStamped(const PrintOptions& options, const AudioInfo& spot, const Printed& printed, std::ostream& out)
{
    const bool turned = printed.sides.front().polarity == Polarity::inverted;
    out << "Printed " << options.output.string() << ": "
        << (turned ? "each sample's sign changed and nothing else" : "samples untouched") << ", time stamp "
        << earlierOrLater(printed.samples.front(), spot.sampleRate) << ".\n";
}

/// What the samples and the chunks went through that nobody asked for.
void tellLosses(const PrintOptions& options, const PrintResult& result, std::ostream& out)
{
    if (result.clipped > 0)
        out << result.clipped
            << " samples reached full scale and were held there: lower the spot, or use a float file.\n";
    if (result.oneShort > 0)
        out << result.oneShort
            << " samples at negative full scale ended one step short of positive full scale, which whole numbers do "
               "not reach, when they were turned over.\n";
    for (const auto& name : result.lost)
        out << "The spot's '" << name << "' (what the file says beside its sound) could not be kept in "
            << options.output.filename().string() << ".\n";
}

/// Prints with these alignments, lean not yet in them, and says so.
Printed printWith(const PrintOptions& options, AudioReader& spot, const std::vector<Alignment>& held, std::ostream& out)
{
    std::vector<Alignment> sides;
    for (const auto& side : held) sides.push_back(leaned(side, options.leanMs / 1e3));
    Printed printed;
    printed.file = options.output;
    printed.sides = sides;
    printed.lean = options.leanMs / 1e3;
    printed.wholeSamples = options.wholeSamples;
    printed.timeStamp = options.timeStamp;
    PrintJob job;
    job.sides = sides;
    job.wholeSamples = options.wholeSamples;
    job.lookAhead = options.measure.lookAheadMs / 1e3;
    job.sameLength = options.sameLength;
    job.existing = options.overwrite ? Existing::replace : Existing::refuse;
    job.history = historyOf(held, printed.lean, options.wholeSamples, options.timeStamp);
    Progress progress("Printing");
    job.howFar = [&progress](double seconds, double ofSeconds) { progress.at(seconds, ofSeconds); };
    PrintResult result;
    if (options.timeStamp)
    {
        if (sides.size() > 1 && !(sides[0] == sides[1]))
            throw InputError(spot.info().file,
                             "has two lags, and a file only one time stamp: print without --each-side");
        if (sides.front().polarity == Polarity::inverted && !options.anyway)
            throw NotAdvised(spot.info().file,
                             "was not printed, its polarity is inverted, which a time stamp cannot turn over: --anyway "
                             "changes each sample's sign as well, or print without --time-stamp");
        const auto samples = std::llround(sides.front().lag * spot.info().sampleRate);
        result = copyWithTimeStamp(spot, options.output, samples, job);
        printed.samples.assign(sides.size(), static_cast<double>(samples));
        tellStamped(options, spot.info(), printed, out);
    }
    else
    {
        result = printFile(spot, options.output, job);
        printed.samples = result.heard;
        tellRendered(options, spot.info(), printed, out);
    }
    printed.frames = result.frames;
    printed.clipped = result.clipped;
    tellLosses(options, result, out);
    out << monitoringCaution << "\n";
    return printed;
}

void printMeasured(const PrintOptions& options, AudioReader& spot, std::ostream& out)
{
    if (options.measure.room.empty())
        throw InputError(options.spot, "has no ROOM beside it to measure the lag from: name one, or give --lag-ms");
    Measurement measurement = measure(options.measure, options.spot);
    measurement.lean = options.leanMs / 1e3;
    measurement.wholeSamples = options.wholeSamples;
    out << summaryOf(measurement);
    try
    {
        checkMeasured(options, measurement.report);
        measurement.printed = printWith(options, spot, alignmentOf(measurement), out);
    }
    catch (const NotAdvised&)
    {
        writeReports({measurement}, options.measure); // they say why not
        throw;
    }
    writeReports({measurement}, options.measure);
}

void print(const PrintOptions& asked)
{
    const PrintOptions options = withRecall(asked);
    checkOutput(options);
    AudioReader spot(options.spot, maxSpotChannels);
    std::ostream& out = options.measure.json == "-" ? std::cerr : std::cout; // JSON stands alone
    if (!options.lagMs && options.recall.empty()) return printMeasured(options, spot, out);
    if (!options.measure.picture.empty())
        throw InputError(options.measure.picture, "needs a ROOM to measure: without one there is nothing to draw");
    const Printed printed = printWith(options, spot, givenAlignment(options, spot.info()), out);
    writeReport(toJson(spot.info(), printed), options.measure);
}
} // namespace

CLI::App* addPrintCommand(CLI::App& app)
{
    auto* command = app.add_subcommand("print", "Render the aligned spot to a file");
    const auto options = std::make_shared<PrintOptions>();
    auto* spot =
        command->add_option("SPOT", options->spot, "Close microphone: WAV, W64, RF64, AIFF or FLAC, mono or stereo")
            ->type_name("");
    const auto sheet = addSheetOptions(*command, *spot);
    command->add_option("ROOM", options->measure.room, "Room microphone to measure from; not needed with --lag-ms")
        ->type_name("");
    command
        ->add_option("-o,--output", options->output,
                     "File to write, in the spot's format; its ending may name "
                     "another container")
        ->type_name("FILE")
        ->required();
    auto* lag = command->add_option("--lag-ms", options->lagMs, "Lag to apply instead of measuring, -100 to 200 ms")
                    ->type_name("MS")
                    ->check(between(-100.0, 200.0));
    const auto known = [](const std::string& word)
    {
        const bool good = word == nameOf(Polarity::normal) || word == nameOf(Polarity::inverted);
        return good ? std::string() : "'" + word + "' is neither normal nor inverted";
    };
    command->add_option("--polarity", options->polarity, "With --lag-ms: normal or inverted")
        ->type_name("WHICH")
        ->check(CLI::Validator(known, ""))
        ->capture_default_str()
        ->needs(lag);
    auto* recall =
        command
            ->add_option("--recall", options->recall,
                         "A recall line, from the plugin or from measure, in quotes: its lag, polarity, lean "
                         "and rounding are applied instead of measuring")
            ->type_name("'LINE'")
            ->excludes(lag);
    auto* lean = command
                     ->add_option("--lean", options->leanMs,
                                  "Offset on top of the lag, " + rangeOf(setting(&Controls::lean)) +
                                      " ms; positive: the room leads")
                     ->type_name("MS")
                     ->check(within(setting(&Controls::lean)))
                     ->capture_default_str();
    auto* whole = command->add_flag("--whole-samples", options->wholeSamples,
                                    "Round to a whole sample, so that the spot passes bit for bit");
    recall->excludes(lean)->excludes(whole);
    command
        ->add_flag("--time-stamp", options->timeStamp,
                   "Leave the samples alone and move the broadcast wave's time stamp by whole samples (WAV)")
        ->excludes(whole);
    command->add_flag("--same-length", options->sameLength,
                      "Make the output as long as the spot: what moves beyond its end is cut off");
    command->add_flag("--anyway", options->anyway,
                      "Print even where it is not advised: the verdict is not 'align', or a time stamp is moved where "
                      "the polarity is inverted (then each sample's sign is changed as well)");
    command->add_flag("--overwrite", options->overwrite, "Replace the output where it is there already");
    addMeasureOptions(*command, options->measure);
    command->footer(
        "The output starts where the spot starts and keeps its sample format; the inputs are never touched.\n"
        "Fractions of a sample written to 16 or 24 bits get triangular dither; whole samples pass bit for "
        "bit.\n\n"
        "  tarry print snare.wav room.wav -o snare-aligned.wav\n"
        "  tarry print snare.wav -o snare-aligned.wav --lag-ms 31.084 --lean 8\n"
        "  tarry print --from morning/sheet.json --audio cues -o again\n"
        "  tarry print snare.wav -o snare-aligned.wav --recall 'Tarry recall 1: ... end'\n\n" +
        std::string(monitoringCaution) +
        "\n\nExit status: 0 printed; 2 bad usage, unreadable input, or nothing to apply; 3 the output could not be "
        "written, or is there already; 4 not advised, and nothing was printed (see --anyway).");
    command->callback(
        [options, sheet]
        {
            if (!sheet->sheet.empty())
                return printSheet(*sheet, options->output, options->overwrite ? Existing::replace : Existing::refuse);
            if (options->spot.empty()) throw CLI::RequiredError("SPOT");
            print(*options);
        });
    return command;
}
} // namespace tarry::command
