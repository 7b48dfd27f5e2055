#include "Command/SessionTake.h"

#include "Core/Analysis.h"
#include "Core/Capture/HitCapture.h"
#include "Core/Ground/Text.h"
#include "Core/Report/Verdict.h"
#include "Files/LaidPair.h"
#include "Files/Measurement.h"
#include "Files/TakeFigures.h"

#include <algorithm>
#include <cmath>
#include <cstring>
#include <deque>
#include <map>
#include <sndfile.h>

namespace tarry::command
{
namespace
{
constexpr int queueSlots = 32;              // hits: more than begin within a block
constexpr std::size_t rememberedHits = 128; // the latest, as in Analysis
constexpr std::size_t servingHits = 12;     // of a take, for its setup
constexpr double headOfTake = 30.0;         // s, in which a clap is looked for

/// The hits of a take as they come, in order.
class Hearing
{
public:
    Hearing(const MeasureSettings& settings, std::int64_t firstFrame) : analysis(settings), start(firstFrame)
    {
        capture.prepare(settings);
        queue.prepare(queueSlots, settings.spotChannels, settings.roomChannels, capture.windowFrames());
    }

    void hear(const float* const* spot, const float* const* room, int frames)
    {
        capture.process(spot, room, frames, queue);
        takeIn();
    }

    void finish()
    {
        capture.finish(queue);
        takeIn();
    }

    Analysis analysis;
    std::deque<Hit> hits; ///< the latest, times counted in the spot's file

private:
    void takeIn()
    {
        while (const Hit* captured = queue.beginRead())
        {
            Hit hit = *captured;
            queue.endRead();
            hit.onset += start;
            analysis.add(hit);
            hits.push_back(std::move(hit));
            if (hits.size() > rememberedHits) hits.pop_front();
        }
    }

    HitCapture capture;
    HitQueue queue;
    std::int64_t start;
};

double timeOf(const Hit& hit)
{
    return static_cast<double>(hit.onset) / hit.sampleRate;
}

/// The clap at the head: the first hit there that says a sure lag as a clap. None where there is none.
std::optional<Report> clapIn(const std::deque<Hit>& hits, MeasureSettings settings)
{
    settings.clap = true;
    for (const Hit& hit : hits)
    {
        if (timeOf(hit) > headOfTake) break;
        Analysis clap(settings);
        clap.add(hit);
        if (auto report = clap.report(); report.lag && report.confidence >= trusted) return report;
    }
    return std::nullopt;
}

/// The hits that count, those that count most first; where none does, the first.
std::vector<Hit> tellingHits(const std::deque<Hit>& hits, const Report& report)
{
    std::map<double, const HitReport*> byTime;
    for (const HitReport& hit : report.hits)
        if (hit.used) byTime[hit.time] = &hit;
    std::vector<const Hit*> best;
    for (const Hit& hit : hits)
        if (byTime.empty() || byTime.contains(timeOf(hit))) best.push_back(&hit);
    if (!byTime.empty())
        std::stable_sort(best.begin(), best.end(),
                         [&](const Hit* a, const Hit* b)
                         {
                             const auto *one = byTime.at(timeOf(*a)), *other = byTime.at(timeOf(*b));
                             return std::pair(one->weight, one->clearDb) > std::pair(other->weight, other->clearDb);
                         });
    best.resize(std::min(best.size(), servingHits));
    std::vector<Hit> copies;
    for (const Hit* hit : best) copies.push_back(*hit);
    return copies;
}

/// Who recorded it, as the broadcast chunk says (EBU Tech 3285: Originator).
std::string machineOf(const AudioInfo& info)
{
    SF_BROADCAST_INFO fixed{};
    if (info.broadcast.size() < offsetof(SF_BROADCAST_INFO, origination_date)) return {};
    std::copy_n(info.broadcast.begin(), offsetof(SF_BROADCAST_INFO, origination_date),
                reinterpret_cast<char*>(&fixed)); // NOLINT: bytes of a plain struct
    std::string name(fixed.originator, strnlen(fixed.originator, sizeof(fixed.originator)));
    const std::string reference(fixed.originator_reference,
                                strnlen(fixed.originator_reference, sizeof(fixed.originator_reference)));
    if (!name.empty() && !reference.empty()) name.append(" ");
    return name.append(reference);
}

void describeFiles(MeasuredTake& take, const LaidPair& pair)
{
    SessionRow& row = take.row;
    row.spotRate = pair.spot().sampleRate;
    row.roomRate = pair.room().sampleRate;
    row.spotChannels = pair.spot().channels;
    row.roomChannels = pair.room().channels;
    row.spotFrames = pair.spot().frames;
    row.roomFrames = pair.room().frames;
    row.laidByTimeStamp = pair.byTimeStamp();
    row.roomStartsAfter = pair.roomStartsAfter();
    row.notes = pair.notes();
    take.seconds = pair.spot().seconds();
    take.spotMachine = machineOf(pair.spot());
    take.roomMachine = machineOf(pair.room());
}
} // namespace

std::string SessionSettings::words() const
{
    return "reach " + fixed(reachMs, 6) + " look-ahead " + fixed(lookAheadMs, 6) +
           (wholeSamples ? " whole samples" : "") + (timeStamp ? " time stamp" : "") + (tail ? " tail" : "");
}

void fillFromPlan(MeasuredTake& take, const PlanRow& planned)
{
    SessionRow& row = take.row;
    row.line = planned.line;
    row.cue = planned.cue;
    row.take = planned.take;
    row.setup = planned.setup;
    row.instrument = planned.instrument;
    row.note = planned.note;
    row.spotFile = planned.spotText;
    row.roomFile = planned.roomText;
    row.roomChannel = planned.roomChannel;
    row.clap = planned.clap;
    row.temperature = planned.temperature;
    row.wished = planned.decision;
    row.lean = planned.lean;
    take.taped = planned.taped;
    take.by = planned.by;
}

TakeWork measureTake(const PlanRow& planned, const SessionSettings& session, const std::function<void(double)>& onward)
{
    LaidPair pair(planned.spot, planned.room);
    TakeWork work;
    MeasuredTake& take = work.take;
    describeFiles(take, pair);
    take.settings = pair.settings(planned.roomChannel);
    take.settings.reach = session.reachMs / 1e3;
    take.settings.lookAhead = session.lookAheadMs / 1e3;
    take.settings.temperature = planned.temperature.value_or(20.0);

    Hearing hearing(take.settings, pair.start());
    std::int64_t heard = 0;
    pair.readAll(
        [&](float* const* spot, float* const* room, int frames)
        {
            hearing.hear(spot, room, frames);
            onward(static_cast<double>(heard += frames) / take.settings.sampleRate);
        });
    hearing.finish();

    Report report = hearing.analysis.report();
    judge(report, take.seconds); // how long the take is, only the files know
    work.hits = tellingHits(hearing.hits, report);
    for (const HitReport& hit : report.hits)
        if (hit.used && hit.lag) take.hits.push_back({hit.time, *hit.lag});
    take.row.clips = clipCuts(report, take.seconds);
    if (planned.clap)
    {
        if (auto clap = clapIn(hearing.hits, take.settings))
        {
            take.byClap = true;
            clap->driftPpm = report.driftPpm;
            clap->driftPpmSd = report.driftPpmSd;
            report = *clap;
        }
        else
            take.row.notes.push_back("No clap was found in the first " + std::to_string(std::lround(headOfTake)) +
                                     " s: measured from what is played.");
    }
    take.row.own = figuresOf(report);
    if (report.lag) take.row.attack = attackPicture(report, {*report.lag, report.polarity.value_or(Polarity::normal)});
    return work;
}
} // namespace tarry::command
