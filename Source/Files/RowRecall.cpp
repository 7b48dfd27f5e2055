#include "Files/RowRecall.h"

#include "Core/Controls/RecallLine.h"
#include "Files/SheetWords.h"

#include <algorithm>
#include <cmath>

namespace tarry
{
namespace
{
/// s up to the next whole millisecond.
double wholeMs(double seconds)
{
    return std::ceil(1e3 * seconds - 1e-6) / 1e3;
}
} // namespace

std::string recallLineOf(const SessionRow& row, const SessionRecord& record)
{
    if (!row.lag) return {};
    RecallLine recall;
    recall.version = record.version;
    recall.held = Sides::both({*row.lag, row.polarity});
    recall.confidence = std::min(row.confidence, 0.999); // nobody is ever sure
    recall.verdict = row.verdict;
    recall.sampleRate = row.spotRate;
    recall.names.spot = spotName(row);
    recall.names.cue = row.cue;
    recall.names.take = row.take;
    Controls& controls = recall.controls;
    controls.aligned = row.decision == Decision::align;
    controls.lean = row.lean;
    controls.wholeSamples = record.wholeSamples;
    controls.clap = row.clap;
    controls.reach = wholeMs(std::clamp(*row.lag, controls.reach, 0.200));
    controls.roomChannel = row.roomChannel == "left" ? 0 : row.roomChannel == "right" ? 1 : -1;
    recall.setup.lookAhead =
        wholeMs(std::clamp(-row.applied().lag, 0.0, 0.100)); // as much as the spot has to move earlier
    if (row.temperature) recall.setup.temperature = *row.temperature;
    return writeRecallLine(recall);
}
} // namespace tarry
