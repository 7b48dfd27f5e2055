#include "Files/MeasureFiles.h"

#include "Core/Measuring.h"
#include "Core/Report/SidesDiffer.h"
#include "Core/Report/Verdict.h"
#include "Files/ClipCheck.h"
#include "Files/LaidPair.h"

namespace tarry
{
Measurement measureFiles(const MeasureJob& job, const std::function<void(double seconds, double ofSeconds)>& howFar)
{
    LaidPair pair(job.spot, job.room, job.startTogether);

    Measurement measurement;
    measurement.spot = pair.spot();
    measurement.room = pair.room();
    measurement.settings = pair.settings(job.roomChannel, job.settings);
    measurement.eachSide = job.eachSide && pair.spot().channels == 2;
    measurement.taped = job.taped;
    measurement.names = job.names;
    if (measurement.names.date.empty()) measurement.names.date = originationDate(pair.spot());
    measurement.notes = pair.notes();

    Measuring measuring;
    measuring.prepare(measurement.settings);
    ClipCheck clips(pair.spot());
    const double rate = pair.spot().sampleRate;
    const double start = static_cast<double>(pair.start()) / rate;
    std::int64_t frame = 0;
    pair.readAll(
        [&](float* const* spotBlock, float* const* roomBlock, int frames)
        {
            clips.look(spotBlock, frames);
            measuring.process(spotBlock, roomBlock, frames);
            measuring.gather();
            frame += frames;
            if (howFar) howFar(static_cast<double>(frame) / rate, pair.spot().seconds() - start);
        });
    measuring.finish();
    measuring.work();
    measurement.report = measuring.report();
    for (HitReport& hit : measurement.report.hits) hit.time += start; // in the spot's own time
    if (clips.places() > 0) measurement.notes.push_back(clips.note());
    judge(measurement.report, pair.spot().seconds()); // how long the cue is, only the files know
    if (const auto differ = sidesDiffer(measurement.report);
        pair.spot().channels == 2 && !measurement.eachSide && !differ.empty())
        measurement.notes.push_back(differ + " --each-side aligns both.");
    return measurement;
}
} // namespace tarry
