#include "Command/PrintCommand.h"

#include "Command/Measure.h"
#include "Command/MeasureCommand.h"
#include "Command/Options.h"
#include "Command/Render.h"
#include "Command/Summary.h"
#include "Core/Delay/Delay.h"
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
    std::vector<std::filesystem::path> inputs{measure.spot};
    if (!measure.room.empty()) inputs.push_back(measure.room);
    refuseToOverwrite(options.output, inputs);
    checkReports(measure, options.output);
    const SafeFile canBeThere(options.output);
}

std::string firstReason(const Report& report)
{
    return report.reasons.empty() ? std::string("no reason given") : report.reasons.front();
}

/// The lags to apply where they are to be measured; says why where nothing should be applied.
std::vector<Alignment> measuredAlignment(const PrintOptions& options)
{
    const auto& spot = options.measure.spot;
    if (options.measure.room.empty())
        throw InputError(spot, "has no ROOM beside it to measure the lag from: name one, or give --lag-ms");
    const Measurement measurement = measure(options.measure);
    show(measurement, options.measure);

    auto sides = alignmentOf(measurement);
    const auto& report = measurement.report;
    if (sides.empty())
        throw InputError(spot, "was not printed, no lag was measured (" + firstReason(report) +
                                   "): print a take with clear hits or a clap, or give --lag-ms");
    if (report.verdict != Verdict::align && !options.anyway)
        throw InputError(spot, std::string("was not printed, the verdict is '") + nameOf(report.verdict) + "' (" +
                                   firstReason(report) + "): --anyway prints it all the same");
    return sides;
}

std::vector<Alignment> wantedAlignment(const PrintOptions& options, const AudioInfo& spot)
{
    std::vector<Alignment> sides(static_cast<std::size_t>(spot.channels));
    const auto polarity = options.polarity == nameOf(Polarity::normal) ? Polarity::normal : Polarity::inverted;
    if (options.lagMs)
        for (auto& side : sides) side = {wholeNanoseconds(*options.lagMs / 1e3), polarity};
    else
        sides = measuredAlignment(options);
    for (auto& side : sides) side.lag = wholeNanoseconds(side.lag + options.leanMs / 1e3);
    return sides;
}

std::string earlierOrLater(double samples, int sampleRate)
{
    return fixed(std::abs(samples) / sampleRate * 1e3, 3) + " ms " + (samples < 0 ? "earlier" : "later") + " (" +
           fixed(std::abs(samples), 3) + " samples)";
}

void tellRendered(const PrintOptions& options, const AudioInfo& spot, const std::vector<Alignment>& sides,
                  const RenderResult& result, std::ostream& out)
{
    for (std::size_t i = 0; i < sides.size(); ++i)
    {
        const bool alike = sides.size() < 2 || sides[0] == sides[1];
        if (alike && i > 0) break;
        const char* which = alike ? "the spot" : i == 0 ? "its left side" : "its right side";
        out << "Printed " << options.output.string() << ": " << which << " "
            << earlierOrLater(result.heard[i], spot.sampleRate) << ", polarity " << nameOf(sides[i].polarity) << ".\n";
        const double asked = sides[i].lag * spot.sampleRate;
        const bool fell = !options.wholeSamples && result.heard[i] == std::round(result.heard[i]) &&
                          std::abs(asked - result.heard[i]) > Delay::wholeTolerance * spot.sampleRate;
        if (fell)
            out << "A lag below " << fixed(Delay::halfLength * 1e3 / spot.sampleRate, 3)
                << " ms is shorter than half the filter, so it fell to the nearest whole sample: " << fixed(asked, 3)
                << " to " << fixed(result.heard[i], 0) << ". --look-ahead 2 leaves room for the fraction.\n";
    }
    if (result.clipped > 0)
        out << result.clipped
            << " samples reached full scale and were held there: lower the spot, or use a float file.\n";
}

void print(const PrintOptions& options)
{
    checkOutput(options);
    AudioReader spot(options.measure.spot, maxSpotChannels);
    const auto sides = wantedAlignment(options, spot.info());
    std::ostream& out = options.measure.json == "-" ? std::cerr : std::cout; // JSON stands alone

    if (options.timeStamp)
    {
        if (sides.size() > 1 && !(sides[0] == sides[1]))
            throw InputError(spot.info().file,
                             "has two lags, and a file only one time stamp: print without --each-side");
        const auto samples = std::llround(sides.front().lag * spot.info().sampleRate);
        copyWithTimeStamp(spot, options.output, samples);
        out << "Printed " << options.output.string() << ": samples untouched, time stamp "
            << earlierOrLater(static_cast<double>(samples), spot.info().sampleRate) << ".\n";
        if (sides.front().polarity == Polarity::inverted)
            out << "A time stamp cannot turn the polarity over: invert the spot in the session.\n";
    }
    else
    {
        const auto result =
            render(spot, options.output, {sides, options.wholeSamples, options.measure.lookAheadMs / 1e3});
        tellRendered(options, spot.info(), sides, result, out);
    }
    out << monitoringCaution << "\n";
}
} // namespace

CLI::App* addPrintCommand(CLI::App& app)
{
    auto* command = app.add_subcommand("print", "Render the aligned spot to a file");
    const auto options = std::make_shared<PrintOptions>();
    command->add_option("SPOT", options->measure.spot, "Close microphone: WAV, W64, RF64, AIFF or FLAC, mono or stereo")
        ->type_name("")
        ->required();
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
    command->add_option("--lean", options->leanMs, "Offset on top of the lag, -20 to 30 ms; positive: the room leads")
        ->type_name("MS")
        ->check(between(-20.0, 30.0))
        ->capture_default_str();
    auto* whole = command->add_flag("--whole-samples", options->wholeSamples,
                                    "Round to a whole sample, so that the spot passes bit for bit");
    command
        ->add_flag("--time-stamp", options->timeStamp,
                   "Leave the samples alone and move the broadcast wave's time stamp by whole samples (WAV)")
        ->excludes(whole);
    command->add_flag("--anyway", options->anyway, "Print what was measured even where the verdict is not 'align'");
    addMeasureOptions(*command, options->measure);
    command->footer(
        "The output starts where the spot starts and keeps its sample format; the inputs are never touched.\n"
        "Fractions of a sample written to 16 or 24 bits get triangular dither; whole samples pass bit for "
        "bit.\n\n"
        "  tarry print snare.wav room.wav -o snare-aligned.wav\n"
        "  tarry print snare.wav -o snare-aligned.wav --lag-ms 31.084 --lean 8\n\n" +
        std::string(monitoringCaution) +
        "\n\nExit status: 0 printed; 2 bad usage, unreadable input, or nothing to apply; 3 the output could "
        "not be written.");
    command->callback([options] { print(*options); });
    return command;
}
} // namespace tarry::command
