#include "Command/Measure.h"

#include "Command/Progress.h"
#include "Core/Measuring.h"
#include "Core/Report/SidesDiffer.h"
#include "Core/Report/Verdict.h"
#include "Files/ClipCheck.h"
#include "Files/LaidPair.h"

namespace tarry::command
{
Measurement measure(const MeasureOptions& options, const std::filesystem::path& spot)
{
    LaidPair pair(spot, options.room, options.startTogether);

    Measurement measurement;
    measurement.spot = pair.spot();
    measurement.room = pair.room();
    measurement.settings = pair.settings(options.roomChannel);
    measurement.settings.reach = options.reachMs / 1e3;
    measurement.settings.lookAhead = options.lookAheadMs / 1e3;
    measurement.settings.clap = options.clap;
    measurement.settings.temperature = options.temperature;
    measurement.eachSide = options.eachSide && pair.spot().channels == 2;
    measurement.taped = options.taped;
    measurement.names = options.names;
    if (measurement.names.date.empty()) measurement.names.date = originationDate(pair.spot());
    measurement.notes = pair.notes();

    Measuring measuring;
    measuring.prepare(measurement.settings);
    ClipCheck clips(pair.spot());
    Progress progress("Measuring", pair.spot().frames - pair.start(), pair.spot().sampleRate);
    std::int64_t frame = 0;
    pair.readAll(
        [&](float* const* spotBlock, float* const* roomBlock, int frames)
        {
            clips.look(spotBlock, frames);
            measuring.process(spotBlock, roomBlock, frames);
            measuring.gather();
            progress.at(frame += frames);
        });
    measuring.finish();
    measuring.work();
    measurement.report = measuring.report();
    const double start = static_cast<double>(pair.start()) / pair.spot().sampleRate;
    for (HitReport& hit : measurement.report.hits) hit.time += start; // in the spot's own time
    if (clips.places() > 0) measurement.notes.push_back(clips.note());
    judge(measurement.report, pair.spot().seconds()); // how long the cue is, only the files know
    if (const auto differ = sidesDiffer(measurement.report);
        pair.spot().channels == 2 && !measurement.eachSide && !differ.empty())
        measurement.notes.push_back(differ + " --each-side aligns both.");
    return measurement;
}
} // namespace tarry::command
