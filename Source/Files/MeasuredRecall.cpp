#include "Files/MeasuredRecall.h"

#include "Core/Controls/RecallLine.h"
#include "Core/Ground/Version.h"

namespace tarry
{
std::string recallLineOf(const Measurement& measurement)
{
    const Report& report = measurement.report;
    RecallLine recall;
    recall.version = version();
    if (const auto sides = alignmentOf(measurement);
        !sides.empty() && (report.verdict == Verdict::align || measurement.printed))
        recall.held = Sides{{sides.front(), sides.back()}};
    recall.confidence = report.confidence;
    recall.verdict = report.verdict;
    recall.names = measurement.names;
    recall.sampleRate = measurement.spot.sampleRate;
    recall.controls.aligned = true;
    recall.controls.reach = measurement.settings.reach;
    recall.controls.clap = measurement.settings.clap;
    recall.controls.roomChannel = measurement.settings.roomChannel;
    recall.controls.eachSide = measurement.eachSide;
    recall.controls.lean = measurement.lean;
    recall.controls.wholeSamples = measurement.wholeSamples;
    recall.setup.lookAhead = measurement.settings.lookAhead;
    recall.setup.temperature = measurement.settings.temperature;
    recall.setup.tape = measurement.taped.value_or(0.0);
    return writeRecallLine(recall);
}
} // namespace tarry
